/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-round-view.c — see app-round-view.h. */
#include "app/app-round-view.h"

#include <glib/gi18n.h>

#include "app/app-view.h"

typedef struct
{
  WordsView view;
  DeskRoundPreview *preview; /* borrowed */
  GPtrArray *lines;
} Preview;

static void
line_free (AppRoundPreviewLine *line)
{
  g_free (line->who);
  g_free (line->what);
  g_free (line);
}

static void
add (Preview *self, AppRoundPreviewKind kind, size_t at, char *who, char *what)
{
  AppRoundPreviewLine *line = g_new0 (AppRoundPreviewLine, 1);

  *line = (AppRoundPreviewLine) { kind, at, who, what };
  g_ptr_array_add (self->lines, line);
}

static DeskSubject *
subject_at (Preview *self, gsize cup)
{
  return g_ptr_array_index (self->preview->subjects, cup);
}

static const char *
number_at (Preview *self, gsize cup)
{
  return g_array_index (self->preview->cups, CoreRoundCup, cup).number;
}

/* ---- what is written ---- */

static int
compare_numbers (gconstpointer a, gconstpointer b)
{
  const char *x = *(const char *const *) a, *y = *(const char *const *) b;
  guint64 m = g_ascii_strtoull (x, NULL, 10), n = g_ascii_strtoull (y, NULL, 10);

  return m != n ? (m < n ? -1 : 1) : g_ascii_strcasecmp (x, y);
}

/* Every number of the shelf in order: what a range is a part of. */
static GPtrArray *
all_numbers (Preview *self)
{
  GPtrArray *out = g_ptr_array_new ();

  for (guint i = 0; i < self->preview->cups->len; i++)
    if (g_array_index (self->preview->cups, CoreRoundCup, i).living_single)
      g_ptr_array_add (out, (gpointer) number_at (self, i));
  g_ptr_array_sort (out, compare_numbers);
  return out;
}

/* For whom the nth action is written, in the order of their numbers. */
static GPtrArray *
action_numbers (Preview *self, gsize action)
{
  GPtrArray *numbers = g_ptr_array_new ();

  for (gsize i = 0; i < self->preview->plan.n_writes; i++)
    if (!self->preview->plan.writes[i].exception && self->preview->plan.writes[i].action == action)
      g_ptr_array_add (numbers, (gpointer) number_at (self, self->preview->plan.writes[i].cup));
  g_ptr_array_sort (numbers, compare_numbers);
  return numbers;
}

/* "6 cups" and "Fed 2 house flies: 1–3, 5, 8, 11"; a lot by its code. */
static void
add_action (Preview *self, gsize action)
{
  const CoreRoundAction *done = &self->preview->line.actions[action];
  gboolean lot = self->preview->line.opening.lot >= 0;
  g_autoptr (GPtrArray) all = all_numbers (self);
  g_autoptr (GPtrArray) numbers = action_numbers (self, action);
  guint n = numbers->len;
  g_autofree char *what = words_round_action (WORDS_LOCAL, done, 0);
  g_autofree char *names = words_round_numbers (WORDS_LOCAL, (const char *const *) numbers->pdata, n,
                                                (const char *const *) all->pdata, all->len);

  add (self, APP_ROUND_WRITES, done->start,
       lot ? g_strdup (number_at (self, (gsize) self->preview->line.opening.lot))
           : g_strdup_printf (TN_ (WORDS_LOCAL, "round line", "%u cup", "%u cups", n), n),
       lot || n == 0 ? g_strdup (what) : g_strdup_printf ("%s: %s", what, names));
}

/* "60 ♀?" and "ghost mantis, adult since 3 Sep: died". */
static void
add_exception (Preview *self, const CoreRoundWrite *write)
{
  DeskSubject *subject = subject_at (self, write->cup);
  size_t at = self->preview->line.exceptions[write->action].start;
  g_autofree char *what = words_round_write (&self->view, NULL, number_at (self, write->other),
                                             self->preview->day, write);
  g_autofree char *stage = NULL;

  if (desk_subject_kind (subject) == CORE_SUBJECT_LOT)
    {
      add (self, APP_ROUND_WRITES, at, g_strdup (number_at (self, write->cup)),
           g_strdup_printf ("%s: %s", app_species_name (subject), what));
      return;
    }
  stage = words_stage (&self->view, desk_subject_state (subject));
  add (self, APP_ROUND_WRITES, at,
       g_strdup_printf ("%s %s", desk_subject_label (subject),
                        words_sex_sign (desk_subject_verdict (subject)->verdict)),
       g_strdup_printf ("%s, %s: %s", app_species_name (subject), stage, what));
}

/* ---- what is wrong ---- */

static void
add_problem (Preview *self, const CoreRoundProblem *problem, const char *line)
{
  add (self, APP_ROUND_PROBLEM, problem->start, g_strdup (C_ ("round line", "not yet")),
       words_round_problem (WORDS_LOCAL, problem, line));
}

/* ---- who is left out ---- */

/* Whom it speaks of: one reason with its prey, or with `due` all that have something due. */
typedef struct
{
  CoreLeftOutWhy why;
  int prey;
  gboolean due;
} LeftOut;

static gboolean
names_prey (CoreLeftOutWhy why)
{
  return why == CORE_LEFT_OUT_TOO_SMALL || why == CORE_LEFT_OUT_NOT_ITS_PREY ||
         why == CORE_LEFT_OUT_LENGTH_UNKNOWN;
}

static gboolean
is_of (const CoreRoundLeftOut *out, const LeftOut *which)
{
  gboolean food = names_prey (which->why);

  if (which->due)
    return out->due;
  return out->why == which->why && (!food || out->prey == which->prey);
}

/* Their numbers, "14, 22–25"; NULL when there are none. */
static char *
left_out_numbers (Preview *self, const LeftOut *which, GPtrArray *all)
{
  g_autoptr (GPtrArray) numbers = g_ptr_array_new ();

  for (gsize i = 0; i < self->preview->plan.n_left_out; i++)
    {
      const CoreRoundLeftOut *out = &self->preview->plan.left_out[i];
      const char *number = number_at (self, out->cup);

      if (is_of (out, which) && !g_ptr_array_find_with_equal_func (numbers, number, g_str_equal, NULL))
        g_ptr_array_add (numbers, (gpointer) number);
    }
  if (numbers->len == 0)
    return NULL;
  g_ptr_array_sort (numbers, compare_numbers);
  return words_round_numbers (WORDS_LOCAL, (const char *const *) numbers->pdata, numbers->len,
                              (const char *const *) all->pdata, all->len);
}

/* "Left out: 14 leave alone. Due among them: 14." */
static char *
with_due (Preview *self, GPtrArray *all, const char *parts)
{
  LeftOut which = { .due = TRUE };
  g_autofree char *out = words_round_left_out (WORDS_LOCAL, parts);
  g_autofree char *numbers = left_out_numbers (self, &which, all);
  g_autofree char *due = numbers != NULL ? words_round_left_out_due (WORDS_LOCAL, numbers) : NULL;

  return g_strconcat (out, due != NULL ? " " : NULL, due, NULL);
}

static void
add_left_out (Preview *self)
{
  g_autoptr (GPtrArray) all = all_numbers (self);
  g_autoptr (GString) parts = g_string_new (NULL);

  for (int why = 0; why < CORE_N_LEFT_OUT; why++)
    {
      gboolean food = names_prey ((CoreLeftOutWhy) why);

      for (int prey = food ? 0 : -1; prey < (food ? CORE_N_PREY : 0); prey++)
        {
          LeftOut which = { (CoreLeftOutWhy) why, prey, FALSE };
          g_autofree char *numbers = left_out_numbers (self, &which, all);
          g_autofree char *part = NULL;

          if (numbers == NULL)
            continue;
          part = words_round_left_out_part (WORDS_LOCAL, which.why, prey, numbers);
          g_string_append_printf (parts, "%s%s", parts->len > 0 ? "; " : "", part);
        }
    }
  if (parts->len > 0)
    add (self, APP_ROUND_LEFT_OUT, G_MAXSIZE, g_strdup (""), with_due (self, all, parts->str));
}

static int
compare_places (gconstpointer a, gconstpointer b)
{
  const AppRoundPreviewLine *x = *(AppRoundPreviewLine *const *) a;
  const AppRoundPreviewLine *y = *(AppRoundPreviewLine *const *) b;

  return x->at != y->at ? (x->at < y->at ? -1 : 1) : (int) x->kind - (int) y->kind;
}

GPtrArray *
app_round_preview_lines (Desk *desk, DeskRoundPreview *preview, const char *line)
{
  Preview self = { app_view (desk), preview,
                   g_ptr_array_new_with_free_func ((GDestroyNotify) line_free) };

  for (gsize i = 0; i < preview->line.n_actions; i++)
    add_action (&self, i);
  for (gsize i = 0; i < preview->plan.n_writes; i++)
    if (preview->plan.writes[i].exception)
      add_exception (&self, &preview->plan.writes[i]);
  for (gsize i = 0; i < preview->line.n_problems; i++)
    add_problem (&self, &preview->line.problems[i], line);
  add_left_out (&self);
  g_ptr_array_sort (self.lines, compare_places);
  return self.lines;
}
