/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs-round.c — rounds of another day or by other eyes, and the sheet for a stand-in. */
#include "app/app-dialogs.h"

#include <glib/gi18n.h>

#include "app/app-form.h"
#include "app/app-window.h"

static void
past_submit (AppForm *form)
{
  AppWindow *window = app_form_window (form);
  CoreDay day;
  g_autofree char *seen_by = NULL;

  if (!app_form_get_day (form, "day", &day))
    return;
  if (day == CORE_DAY_NONE || day > desk_today (app_window_get_desk (window)))
    {
      app_form_problem_at (form, "day", C_ ("form", "Say the day of the round: today or before."));
      return;
    }
  seen_by = g_strstrip (g_strdup (app_form_get (form, "seen_by")));
  app_form_done (form, NULL, NULL);
  app_window_past_round (window, day, seen_by);
}

void
app_dialog_past_round (AppWindow *window)
{
  AppForm *form = app_form_new (window, C_ ("form", "A round of another day"), C_ ("form", "_Type it in"), past_submit);

  app_form_day (form, "day", C_ ("form", "_Day of the round"), desk_today (app_window_get_desk (window)) - 1);
  app_form_entry (form, "seen_by", C_ ("form", "_Seen by somebody else"), NULL, C_ ("form", "nobody: you"));
  app_form_note (form, C_ ("form", "All rounds that you type in are of this day until F4 goes back to today."));
  app_form_show (form, "past-round");
}

static void
standin_submit (AppForm *form)
{
  AppWindow *window = app_form_window (form);
  g_autoptr (GError) error = NULL;
  g_autofree char *call = NULL;
  CoreDay from, to;

  if (!app_form_get_day (form, "from", &from) || !app_form_get_day (form, "to", &to))
    return;
  call = g_strstrip (g_strdup (app_form_get (form, "call")));
  app_window_print_standin (window, from, to, call, &error);
  if (error != NULL)
    app_form_problem (form, error->message);
  else
    app_form_done (form, NULL, NULL);
}

void
app_dialog_standin (AppWindow *window)
{
  CoreDay today = desk_today (app_window_get_desk (window));
  AppForm *form = app_form_new (window, C_ ("form", "A sheet for whoever looks after the animals"),
                                C_ ("form", "_Print…"), standin_submit);

  app_form_day (form, "from", C_ ("form", "_First day"), today + 1);
  app_form_day (form, "to", C_ ("form", "_Last day"), today + 7);
  app_form_entry (form, "call", C_ ("form", "_Whom to call"), NULL, C_ ("form", "name and number; empty: a line to write on"));
  app_form_note (form, C_ ("form", "A page of what to do, then a line a cup and a column a day. Type it in afterwards with "
                                   "“A round of another day”, seen by whoever it was."));
  app_form_show (form, "stand-in");
}
