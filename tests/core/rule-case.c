/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-case.c — see rule-case.h. */
#include "rule-case.h"

#include <stdlib.h>
#include <string.h>

#define DAYS_ASKED 14

static void
say_lines (Journal *journal, const char *const *lines)
{
  for (int i = 0; i < RULE_LINES && lines[i] != NULL; i++)
    {
      const char *text = strchr (lines[i], ' ');

      g_assert_nonnull (text);
      journal_add (journal, TODAY + atoi (lines[i]), text + 1);
    }
}

static const char *
option (char *const *words, const char *key)
{
  gsize n = strlen (key);

  for (int i = 2; words[i] != NULL; i++)
    if (strncmp (words[i], key, n) == 0 && words[i][n] == '=')
      return words[i] + n + 1;
  return NULL;
}

static void
assert_day (CoreDay day, const char *wanted)
{
  if (wanted != NULL)
    g_assert_cmpint (day - TODAY, ==, atoi (wanted));
}

/* Every why= is among them and no not= is. */
static void
assert_reasons (const CoreReason *v, size_t n, char *const *words)
{
  for (int i = 2; words[i] != NULL; i++)
    {
      bool wanted = g_str_has_prefix (words[i], "why="), found = false;

      if (!wanted && !g_str_has_prefix (words[i], "not="))
        continue;
      for (size_t k = 0; k < n; k++)
        found = found || strcmp (v[k].rule, words[i] + 4) == 0;
      if (found != wanted)
        g_test_message ("reason %s", words[i]);
      g_assert_cmpint (found, ==, wanted);
    }
}

static void
want_task (const PlanCase *c, CoreTaskKind kind, char *const *words)
{
  const CoreTask *task = plan_case_task (c, kind);

  g_assert_nonnull (task);
  assert_day (task->due, option (words, "due"));
  assert_day (task->latest, option (words, "latest"));
  if (option (words, "reach") != NULL)
    g_assert_cmpstr (core_reach_name (task->reach), ==, option (words, "reach"));
  if (option (words, "prey") != NULL)
    {
      g_autofree char *name = g_strdelimit (g_strdup (option (words, "prey")), "_", ' ');

      g_assert_cmpuint (task->n_prey, >, 0);
      g_assert_cmpstr (core_prey_name (task->prey[0].prey), ==, name);
    }
  if (option (words, "n") != NULL)
    g_assert_cmpint (task->prey[0].n, ==, atoi (option (words, "n")));
  assert_reasons (task->reasons, task->n_reasons, words);
}

static void
want_quiet (const PlanCase *c, CoreTaskKind kind, char *const *words)
{
  want_task (c, kind, words);
  g_assert_cmpint (core_task_missed (plan_case_task (c, kind), TODAY), ==, strcmp (words[0], "quiet") == 0);
}

static void
want_held (const PlanCase *c, CoreTaskKind kind, char *const *words)
{
  const CoreHeld *held = plan_case_held (c, kind);
  const char *until = option (words, "until");

  g_assert_nonnull (held);
  if (until != NULL && strcmp (until, "open") == 0)
    g_assert_cmpint (held->until, ==, CORE_DAY_NONE);
  else
    assert_day (held->until, until);
  assert_day (held->ask_again, option (words, "ask"));
  assert_reasons (held->reasons, held->n_reasons, words);
}

static void
want_days (const PlanCase *c, CoreTaskKind kind, const char *days)
{
  g_autoptr (GString) found = g_string_new (NULL);

  for (size_t i = 0; i < c->plan.tasks.n; i++)
    if (c->plan.tasks.v[i].kind == kind)
      g_string_append_printf (found, "%s%d", found->len > 0 ? "," : "",
                              c->plan.tasks.v[i].due - TODAY);
  g_assert_cmpstr (found->str, ==, days);
}

static void
want_one_more (const PlanCase *c, CoreTaskKind kind, char *const *words)
{
  const char *why = option (words, "why");

  for (size_t i = 0; i < c->plan.tasks.n; i++)
    {
      const CoreTask *task = &c->plan.tasks.v[i];

      if (task->kind != kind || plan_task_reason (task, why) == NULL)
        continue;
      assert_day (task->due, option (words, "due"));
      assert_day (task->latest, option (words, "latest"));
      return;
    }
  g_assert_not_reached ();
}

static void
check (const PlanCase *c, const char *want)
{
  g_auto (GStrv) words = g_strsplit (want, " ", -1);
  CoreTaskKind kind = core_task_from_name (words[1]);

  g_test_message ("  %s", want);
  g_assert_cmpint (kind, !=, CORE_N_TASKS);
  if (strcmp (words[0], "task") == 0)
    want_task (c, kind, words);
  else if (strcmp (words[0], "quiet") == 0 || strcmp (words[0], "forward") == 0)
    want_quiet (c, kind, words);
  else if (strcmp (words[0], "held") == 0)
    want_held (c, kind, words);
  else if (strcmp (words[0], "days") == 0)
    want_days (c, kind, words[2]);
  else if (strcmp (words[0], "more") == 0)
    want_one_more (c, kind, words);
  else if (strcmp (words[0], "free") == 0)
    g_assert_null (plan_case_held (c, kind));
  else if (strcmp (words[0], "none") == 0)
    want_days (c, kind, "");
  else
    g_assert_not_reached ();
}

static void
fold_place (PlanCase *c, const char *const *lines)
{
  g_autoptr (Journal) journal = NULL;

  if (lines[0] == NULL)
    return;
  journal = journal_new ();
  say_lines (journal, lines);
  journal_fold (journal, CORE_SUBJECT_PLACE, &c->place);
  c->has_place = true;
}

/* An egg case, a culture, a place came into being with what is said of it. */
static void
begin (PlanCase *c, const RuleRow *row)
{
  plan_case_init (c, row->group, row->moults);
  if (row->kind != CORE_SUBJECT_NONE)
    c->kind = row->kind;
  if (c->kind == CORE_SUBJECT_EGGCASE || c->kind == CORE_SUBJECT_CULTURE ||
      c->kind == CORE_SUBJECT_PLACE)
    {
      journal_free (c->journal);
      c->journal = journal_new ();
    }
}

static void
run_row (const RuleRow *row)
{
  PlanCase c;

  g_test_message ("%s", row->name);
  begin (&c, row);
  if (row->given != NULL)
    row->given (&c);
  say_lines (c.journal, row->said);
  fold_place (&c, row->place);
  if (row->range[0] != row->range[1])
    plan_case_range (&c, TODAY + row->range[0], TODAY + row->range[1]);
  c.to = TODAY + (row->to > 0 ? row->to : DAYS_ASKED);
  plan_case_run (&c);
  for (int i = 0; i < RULE_LINES && row->want[i] != NULL; i++)
    check (&c, row->want[i]);
  plan_case_clear (&c);
}

void
rule_rows_run (const RuleRow *rows, gsize n)
{
  for (gsize i = 0; i < n; i++)
    run_row (&rows[i]);
}

void
rule_given_female (PlanCase *c)
{
  c->verdict.female = .97;
  c->verdict.male = .03;
}

void
rule_given_male (PlanCase *c)
{
  c->verdict.male = .97;
  c->verdict.female = .03;
}
