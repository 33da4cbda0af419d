/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs-tally.c — forms for what changes the number in a lot or an egg case, and for moving
 * young ones on. Every one writes one round: one undo. */
#include <glib/gi18n.h>
#include <math.h>

#include "app/app-dialogs.h"
#include "app/app-dialogs-private.h"
#include "app/app-view.h"

static void
day_row (AppForm *form, AppWindow *window)
{
  app_form_day (form, "day", C_ ("form", "_On"), desk_today (app_window_get_desk (window)));
}

/* A whole number of animals; FALSE and the form says so. */
static gboolean
get_number (AppForm *form, const char *key, guint *n)
{
  g_autofree char *typed = g_strstrip (g_strdup (app_form_get (form, key)));
  double value;

  if (core_number_parse (typed, &value) && value >= 0 && value <= 100000 && value == floor (value))
    {
      *n = (guint) value;
      return TRUE;
    }
  app_form_problem_at (form, key, C_ ("form", "How many? Write a whole number, such as 12."));
  return FALSE;
}

/* How many of them had moulted before the others; empty: nobody said. */
static gboolean
get_moulted (AppForm *form, int *moulted)
{
  guint n = 0;

  *moulted = -1;
  if (app_form_get (form, "moulted")[0] == '\0')
    return TRUE;
  if (!get_number (form, "moulted", &n))
    return FALSE;
  *moulted = (int) n;
  return TRUE;
}

/* Asked only where some of the lot are a moult ahead of the others. */
static void
moulted_row (AppForm *form, AppWindow *window, CoreId id)
{
  g_autoptr (DeskSubject) lot = desk_get (app_window_get_desk (window), id);

  if (lot != NULL && desk_subject_state (lot)->ahead.n > 0)
    app_form_entry (form, "moulted", C_ ("form", "Of these have moul_ted already"), NULL,
                    C_ ("form", "empty: nobody looked"));
}

static gboolean
get_day (AppForm *form, CoreDay *day)
{
  if (!app_form_get_day (form, "day", day))
    return FALSE;
  if (*day == CORE_DAY_NONE)
    app_form_problem_at (form, "day", C_ ("form", "On which day? A day is needed here."));
  return *day != CORE_DAY_NONE;
}

static char *
count_words (AppWindow *window, CoreId id)
{
  g_autoptr (DeskSubject) lot = desk_get (app_window_get_desk (window), id);

  return lot != NULL ? words_count_of (WORDS_LOCAL, &desk_subject_state (lot)->tally) : g_strdup ("");
}

/* How many there are, as the form stands over it. */
static void
count_note (AppForm *form, AppWindow *window, CoreId id)
{
  g_autofree char *count = count_words (window, id);
  g_autofree char *text = g_strdup_printf (C_ ("form", "In it now: %s."), count);

  app_form_note (form, text);
}

/* ---- separate ---- */

static void
separated_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) made = desk_separate_finish (DESK_DESK (source), result, &error);
  g_autofree char *text = NULL;

  if (made != NULL && made->len > 1)
    text = g_strdup_printf (C_ ("form", "Saved: %u in cups of their own, numbers %s to %s. Ctrl+Z takes it back."),
                            made->len, desk_subject_label (made->pdata[0]),
                            desk_subject_label (made->pdata[made->len - 1]));
  else if (made != NULL && made->len == 1)
    text = g_strdup_printf (C_ ("form", "Saved: one in a cup of its own, number %s. Ctrl+Z takes it back."),
                            desk_subject_label (made->pdata[0]));
  app_form_done (form, text, error);
}

static void
separate_submit (AppForm *form)
{
  Desk *desk = app_window_get_desk (app_form_window (form));
  CoreId place = { { 0 } };
  CoreDay day;
  guint n;
  int moulted;

  if (!get_number (form, "n", &n) || !get_moulted (form, &moulted) || !get_day (form, &day))
    return;
  (void) core_id_from_text (app_form_get (form, "place"), &place);
  desk_separate_async (desk, app_form_id (form), n, moulted, place, day, separated_cb, g_object_ref (form));
}

void
app_dialog_separate (AppWindow *window, CoreId lot)
{
  CoreId none = { { 0 } };
  AppForm *form
    = app_form_new_about (window, lot, C_ ("form title", "Out of %s into cups"), C_ ("form", "Se_parate"), separate_submit);

  count_note (form, window, lot);
  app_form_entry (form, "n", C_ ("form", "How _many"), NULL, "12");
  moulted_row (form, window, lot);
  _app_row_place (form, app_window_get_desk (window), none);
  day_row (form, window);
  app_form_note (form, C_ ("form", "Each gets the next free number and takes over kind, hatch and moults of its lot. "
                                   "Where no shelf is said they stand right after it."));
  app_form_show (form, "separate");
}

/* ---- split ---- */

static void
split_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskSubject) part = desk_split_finish (DESK_DESK (source), result, &error);
  g_autofree char *text = NULL;

  if (part != NULL)
    text = g_strdup_printf (C_ ("form", "Saved: the new lot is %s. Ctrl+Z takes it back."), desk_subject_label (part));
  app_form_done (form, text, error);
}

static void
split_submit (AppForm *form)
{
  const char *code = app_form_get (form, "code");
  CoreDay day;
  guint n;
  int moulted;

  if (get_number (form, "n", &n) && get_moulted (form, &moulted) && get_day (form, &day))
    desk_split_async (app_window_get_desk (app_form_window (form)), app_form_id (form), n, moulted,
                      code[0] != '\0' ? code : NULL, day, split_cb, g_object_ref (form));
}

void
app_dialog_split (AppWindow *window, CoreId lot)
{
  AppForm *form = app_form_new_about (window, lot, C_ ("form title", "Split %s"), C_ ("form", "_Split"), split_submit);

  count_note (form, window, lot);
  app_form_entry (form, "n", C_ ("form", "How _many go into a new lot"), NULL, "20");
  moulted_row (form, window, lot);
  app_form_entry (form, "code", C_ ("form", "Co_de of the new lot"), NULL, C_ ("form", "empty: the next free one"));
  day_row (form, window);
  app_form_show (form, "split");
}

/* ---- join ---- */

static void
joined_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  if (desk_join_finish (DESK_DESK (source), result, &error))
    text = g_strdup (C_ ("form", "Saved: the two are one lot. Ctrl+Z takes it back."));
  app_form_done (form, text, error);
}

static void
join_submit (AppForm *form)
{
  CoreId other;
  CoreDay day;

  if (!core_id_from_text (app_form_get (form, "other"), &other))
    app_form_problem (form, C_ ("form", "Choose the lot that goes into it."));
  else if (get_day (form, &day))
    desk_join_async (app_window_get_desk (app_form_window (form)), app_form_id (form), other, day, joined_cb,
                     g_object_ref (form));
}

void
app_dialog_join (AppWindow *window, CoreId lot)
{
  Desk *desk = app_window_get_desk (window);
  AppForm *form = app_form_new_about (window, lot, C_ ("form title", "Join a lot to %s"), C_ ("form", "_Join"), join_submit);
  g_autoptr (GPtrArray) lots = desk_lots (desk);
  AppChoice choice;

  _app_choice_init (&choice);
  _app_choice_add (&choice, C_ ("form", "please choose"), "");
  for (guint i = 0; i < lots->len; i++)
    {
      DeskSubject *other = g_ptr_array_index (lots, i);
      g_autofree char *count = words_count_of (WORDS_LOCAL, &desk_subject_state (other)->tally);
      g_autofree char *name = g_strdup_printf ("%s · %s · %s", desk_subject_label (other), app_species_name (other), count);
      char id[37];

      if (core_id_equal (desk_subject_id (other), lot))
        continue;
      core_id_to_text (desk_subject_id (other), id);
      _app_choice_add (&choice, name, id);
    }
  _app_choice_row (&choice, form, "other", C_ ("form", "_Which goes into it"), 0);
  day_row (form, window);
  app_form_note (form, C_ ("form", "Its code is retired, its page stays. What differs between the two, such as parents "
                                   "and line, is kept as mixed or unknown."));
  app_form_show (form, "join");
}

/* ---- a new count ---- */

static void
recount_submit (AppForm *form)
{
  guint n;

  if (get_number (form, "n", &n))
    app_form_record (form, "recounted", (const char *const[]){ "n", "counted", NULL });
}

void
app_dialog_recount (AppWindow *window, CoreId lot)
{
  AppForm *form = app_form_new_about (window, lot, C_ ("form title", "Count %s anew"), C_ ("form", "_Save"), recount_submit);

  count_note (form, window, lot);
  app_form_entry (form, "n", C_ ("form", "How _many there are"), NULL, NULL);
  _app_row_counted (form);
  day_row (form, window);
  app_form_note (form, C_ ("form", "What is missing is kept as lost unseen: neither as dead nor as an error."));
  app_form_show (form, "recounted");
}

/* ---- died, left, escaped: some of it ---- */

static void
some_died_submit (AppForm *form)
{
  guint n;

  if (get_number (form, "n", &n))
    app_form_record (form, "died", (const char *const[]){ "n", "cause", NULL });
}

void
app_dialog_some_died (AppWindow *window, CoreId lot)
{
  AppForm *form = app_form_new_about (window, lot, C_ ("form title", "Dead in %s"), C_ ("form", "_Save"), some_died_submit);

  count_note (form, window, lot);
  app_form_entry (form, "n", C_ ("form", "How _many"), NULL, "3");
  _app_row_cause (form);
  app_form_day (form, "day", C_ ("form", "_Found on"), desk_today (app_window_get_desk (window)));
  app_form_show (form, "some-died");
}

static void
some_left_submit (AppForm *form)
{
  guint n;

  if (get_number (form, "n", &n))
    app_form_record (form, "left", (const char *const[]){ "n", "how", "to", NULL });
}

void
app_dialog_some_left (AppWindow *window, CoreId lot)
{
  AppForm *form
    = app_form_new_about (window, lot, C_ ("form title", "Sold or given from %s"), C_ ("form", "_Save"), some_left_submit);

  count_note (form, window, lot);
  app_form_entry (form, "n", C_ ("form", "How _many"), NULL, "10");
  _app_row_how (form);
  app_form_entry (form, "to", C_ ("form", "_To whom"), NULL, NULL);
  day_row (form, window);
  app_form_caution (form, WORDS_CAUTION_POST);
  app_form_caution (form, WORDS_CAUTION_RELEASE);
  app_form_show (form, "some-left");
}

static void
some_escaped_submit (AppForm *form)
{
  guint n;

  if (get_number (form, "n", &n))
    app_form_record (form, "escaped", (const char *const[]){ "n", NULL });
}

void
app_dialog_some_escaped (AppWindow *window, CoreId lot)
{
  AppForm *form
    = app_form_new_about (window, lot, C_ ("form title", "Escaped from %s"), C_ ("form", "_Save"), some_escaped_submit);

  count_note (form, window, lot);
  app_form_entry (form, "n", C_ ("form", "How _many"), NULL, "1");
  day_row (form, window);
  app_form_show (form, "some-escaped");
}

/* ---- egg cases ---- */

static void
hatched_submit (AppForm *form)
{
  guint n;

  if (app_form_get (form, "n")[0] == '\0')
    app_form_record (form, "hatching", (const char *const[]){ "over", NULL });
  else if (get_number (form, "n", &n))
    app_form_record (form, "hatching", (const char *const[]){ "n", "counted", "over", NULL });
}

void
app_dialog_hatched (AppWindow *window, CoreId egg)
{
  AppForm *form
    = app_form_new_about (window, egg, C_ ("form title", "%s hatched"), C_ ("form", "_Save"), hatched_submit);
  const char *const over[] = { C_ ("form", "more may come"), C_ ("form", "that was all"), NULL };
  const char *const over_values[] = { "", "yes", NULL };

  app_form_entry (form, "n", C_ ("form", "How _many"), NULL, C_ ("form", "empty: not counted"));
  _app_row_counted (form);
  day_row (form, window);
  app_form_day (form, "earliest", C_ ("form", "_Not before"), CORE_DAY_NONE);
  app_form_choice (form, "over", C_ ("form", "From this c_ase"), over, over_values, 0);
  app_form_note (form, C_ ("form", "“Make a lot” puts all that hatched into one lot."));
  app_form_show (form, "hatching");
}

static void
dud_submit (AppForm *form)
{
  app_form_record (form, "dud", (const char *const[]){ "sure", NULL });
}

void
app_dialog_dud (AppWindow *window, CoreId egg)
{
  AppForm *form = app_form_new_about (window, egg, C_ ("form title", "%s will not hatch"), C_ ("form", "_Save"), dud_submit);
  const char *const sure[] = { C_ ("form", "yes"), C_ ("form", "no"), NULL };
  const char *const sure_values[] = { "yes", "no", NULL };

  day_row (form, window);
  app_form_choice (form, "sure", C_ ("form", "S_ure"), sure, sure_values, 1);
  app_form_note (form, C_ ("form", "Only hatching proves a case, and late ones hatch too. Its code is retired, its page stays."));
  app_form_caution (form, WORDS_CAUTION_RELEASE);
  app_form_show (form, "dud");
}

/* ---- a note, and the end of a culture ---- */

static void
note_submit (AppForm *form)
{
  if (app_form_get (form, "text")[0] == '\0')
    app_form_problem (form, C_ ("form", "Write what you saw."));
  else
    app_form_record (form, "note", (const char *const[]){ "text", NULL });
}

void
app_dialog_note (AppWindow *window, CoreId id)
{
  AppForm *form = app_form_new_about (window, id, C_ ("form title", "Note on %s"), C_ ("form", "_Save"), note_submit);

  app_form_entry (form, "text", C_ ("form", "_Note"), NULL, NULL);
  day_row (form, window);
  app_form_show (form, "note");
}

static void
used_up_submit (AppForm *form)
{
  app_form_record (form, "died", (const char *const[]){ NULL });
}

void
app_dialog_used_up (AppWindow *window, CoreId culture)
{
  AppForm *form
    = app_form_new_about (window, culture, C_ ("form title", "%s is used up"), C_ ("form", "_Save"), used_up_submit);

  day_row (form, window);
  app_form_caution (form, WORDS_CAUTION_RELEASE);
  app_form_show (form, "used-up");
}
