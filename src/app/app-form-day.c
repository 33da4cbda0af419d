/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-form-day.c — the rows of a form that take a day: read as it is said, and shown as it was understood. */
#include <glib/gi18n.h>

#include "app/app-form.h"
#include "app/app-view.h"
#include "core/core-date.h"

/* Of an entry of app_form_day(): the label beside it. */
#define UNDERSTOOD "understood"

static Desk *
desk_of (AppForm *self)
{
  return app_window_get_desk (app_form_window (self));
}

/* FALSE: no day, and no days. Nothing typed is none of them. */
static gboolean
read_days (const char *text, CoreDay today, DeskWhen *when)
{
  g_autofree char *typed = g_strstrip (g_strdup (text));
  gint64 ago;

  *when = (DeskWhen){ CORE_DAY_NONE, CORE_DAY_NONE, CORE_DAY_NONE };
  if (typed[0] == '\0')
    return TRUE;
  if (typed[0] != '-' || !g_ascii_string_to_signed (typed, 10, -3660, 0, &ago, NULL))
    return desk_when_days (typed, today, when);
  when->earliest = when->said = when->latest = today + (CoreDay) ago;
  return TRUE;
}

/* "Sunday" is today on a Sunday: what is beside the row says so before it is saved. */
static void
understood_cb (GtkEditable *entry, AppForm *self)
{
  GtkWidget *label = g_object_get_data (G_OBJECT (entry), UNDERSTOOD);
  g_autofree char *text = NULL;
  WordsView view;
  DeskWhen when;

  if (app_form_window (self) == NULL || desk_of (self) == NULL)
    return;
  view = app_view (desk_of (self));
  if (!read_days (gtk_editable_get_text (entry), view.today, &when) || when.said == CORE_DAY_NONE)
    text = g_strdup ("");
  else if (when.earliest < when.latest)
    text = words_day_range (&view, when.earliest, when.latest);
  else
    text = words_day (&view, when.said, WORDS_DAY_FULL);
  if (when.said == view.today && when.earliest == when.latest)
    {
      g_autofree char *day = g_steal_pointer (&text);

      /* Translators: how a typed day was understood: "today, Sun 7 June" */
      text = g_strdup_printf (C_ ("form", "today, %s"), day);
    }
  gtk_label_set_label (GTK_LABEL (label), text);
  gtk_widget_set_visible (label, text[0] != '\0');
}

GtkWidget *
app_form_day (AppForm *self, const char *key, const char *label, CoreDay day)
{
  char text[11] = "";
  GtkWidget *entry, *beside;

  if (day != CORE_DAY_NONE)
    core_day_to_text (day, text);
  entry = app_form_entry (self, key, label, text, C_ ("form", "YYYY-MM-DD, Friday, -3 for three days ago"));
  g_return_val_if_fail (entry != NULL, NULL);
  /* Today may be over when the draft is read again. */
  if (day == desk_today (desk_of (self)))
    g_object_set_data (G_OBJECT (entry), "of-today", GINT_TO_POINTER (TRUE));
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 10); /* the form is not to grow by what stands beside it */
  beside = gtk_label_new (NULL);
  gtk_widget_add_css_class (beside, "dim");
  g_object_set_data (G_OBJECT (entry), UNDERSTOOD, beside);
  app_form_beside (self, entry, beside);
  g_signal_connect_object (entry, "changed", G_CALLBACK (understood_cb), self, 0);
  understood_cb (GTK_EDITABLE (entry), self);
  return entry;
}

gboolean
app_form_day_is_to_come (GtkWidget *field, CoreDay today)
{
  DeskWhen when;

  return g_object_get_data (G_OBJECT (field), UNDERSTOOD) != NULL
         && read_days (gtk_editable_get_text (GTK_EDITABLE (field)), today, &when) && when.said != CORE_DAY_NONE
         && when.latest > today;
}

gboolean
app_form_get_days (AppForm *self, const char *key, DeskWhen *when)
{
  const char *typed = app_form_get (self, key);
  g_autofree char *label = NULL;
  g_autofree char *text = NULL;

  if (read_days (typed, desk_today (desk_of (self)), when))
    return TRUE;
  label = app_form_label (self, key);
  /* Translators: words over the field, and what was typed in it */
  text = g_strdup_printf (C_ ("form", "%s: “%s” is not a day. Write it as YYYY-MM-DD, or in words, such as "
                                      "yesterday, last Friday, 10 May, or -3 for three days ago."), label, typed);
  app_form_problem_at (self, key, text);
  return FALSE;
}

gboolean
app_form_get_day (AppForm *self, const char *key, CoreDay *day)
{
  WordsView view = app_view (desk_of (self));
  g_autofree char *label = NULL;
  g_autofree char *days = NULL;
  g_autofree char *text = NULL;
  DeskWhen when;

  *day = CORE_DAY_NONE;
  if (!app_form_get_days (self, key, &when))
    return FALSE;
  *day = when.said;
  if (when.earliest == when.latest)
    return TRUE;
  label = app_form_label (self, key);
  days = words_day_range (&view, when.earliest, when.latest);
  /* Translators: words over the field, what was typed in it, "21–27 May" */
  text = g_strdup_printf (C_ ("form", "%s: “%s” may be any day of %s. One day is kept here: write the likeliest."),
                          label, app_form_get (self, key), days);
  app_form_problem_at (self, key, text);
  return FALSE;
}

gboolean
app_form_get_span (AppForm *self, const char *key, const char *earliest_key, CoreDay *day, CoreDay *earliest)
{
  DeskWhen when;

  *day = *earliest = CORE_DAY_NONE;
  if (!app_form_get_days (self, key, &when) || !app_form_get_day (self, earliest_key, earliest))
    return FALSE;
  *day = when.latest;
  if (*earliest == CORE_DAY_NONE && when.earliest < when.latest)
    *earliest = when.earliest;
  return TRUE;
}

CoreDay
app_form_peek_day (AppForm *self, const char *key)
{
  DeskWhen when;

  return read_days (app_form_get (self, key), desk_today (desk_of (self)), &when) &&
             when.earliest == when.latest
           ? when.said
           : CORE_DAY_NONE;
}
