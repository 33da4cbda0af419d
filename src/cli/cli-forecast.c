/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-forecast.c — what is to come: the next moult, growth, and the plan. */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include "desk/desk-missed.h"

/* ---- forecast ---- */

static void
put_days (Cli *cli, const CoreForecast *forecast)
{
  static const char *const names[CORE_N_Q] = { "p05", "p10", "p25", "p50", "p75", "p90", "p95" };

  cli_out_open (&cli->out, "days");
  for (int i = 0; i < CORE_N_Q; i++)
    cli_out_num (&cli->out, names[i], forecast->days[i], 3);
  cli_out_close (&cli->out);
}

static void
put_adult (Cli *cli, const CoreForecast *forecast)
{
  if (!forecast->has_adult)
    {
      cli_out_null (&cli->out, "adult");
      return;
    }
  cli_out_open (&cli->out, "adult");
  cli_out_day (&cli->out, "p10", forecast->adult_p10);
  cli_out_day (&cli->out, "p50", forecast->adult_p50);
  cli_out_day (&cli->out, "p90", forecast->adult_p90);
  cli_out_open (&cli->out, "moults_left");
  for (int n = 0; n <= CORE_MAX_MOULTS; n++)
    if (forecast->moults_left[n] >= .00005) /* as it is printed */
      {
        char key[8];

        g_snprintf (key, sizeof key, "%d", n);
        cli_out_num (&cli->out, key, forecast->moults_left[n], 4);
      }
  cli_out_close (&cli->out);
  cli_out_close (&cli->out);
}

/* What is the matter with one that refuses; null where it does not. */
static void
put_fasting (Cli *cli, const DeskSubject *subject)
{
  WordsView view = cli_view (cli);
  CoreFasting fasting = desk_subject_fasting (subject);
  g_auto (WordsFasting) words = words_fasting (&view, &fasting);

  if (fasting.answer == CORE_FASTING_NONE)
    {
      cli_out_null (&cli->out, "fasting");
      return;
    }
  cli_out_open (&cli->out, "fasting");
  cli_out_str (&cli->out, "answer", core_fasting_name (fasting.answer));
  cli_out_int (&cli->out, "refusals", fasting.refusals);
  cli_out_day (&cli->out, "since", fasting.since);
  if (fasting.belly > 0)
    cli_out_int (&cli->out, "belly", fasting.belly);
  else
    cli_out_null (&cli->out, "belly");
  cli_out_day (&cli->out, "last_taken", fasting.last_taken);
  cli_out_day (&cli->out, "moulted", fasting.moulted);
  cli_out_int (&cli->out, "offered", fasting.offered);
  cli_out_str (&cli->out, "text", words.answer);
  cli_out_str (&cli->out, "because", words.because);
  cli_out_str (&cli->out, "todo", words.todo);
  cli_out_str (&cli->out, "avoid", words.avoid);
  cli_out_close (&cli->out);
}

/* Why none is to be expected while it stands as it does; null where one is. */
void
cli_put_standstill (Cli *cli, const CoreStandstill *still)
{
  static const char *const names[] = { NULL, "cold", "hot", "rest" };

  cli_out_str (&cli->out, "standstill", names[still->why]);
}

/* The sign that is the moult itself, if one was seen. */
static void
put_moulting (Cli *cli, const CoreForecast *forecast)
{
  if (forecast->moulting < 0)
    {
      cli_out_null (&cli->out, "moulting");
      return;
    }
  cli_out_open (&cli->out, "moulting");
  cli_out_str (&cli->out, "sign", forecast->moulting == CORE_SIGN_SPLITTING ? "splitting" : "pumping");
  cli_out_day (&cli->out, "day", forecast->moulting_day);
  cli_out_close (&cli->out);
}

void
cli_put_none_of_one (Cli *cli)
{
  static const char *const keys[] = { "p10",       "p50",    "p90",      "days",     "by_now",
                                      "within3",   "within7", "within14", "not_normal", "beyond",
                                      "last_look", "adult",  "moulting", "in_range", "longer_than_usual",
                                      "seen_past_range", "probably_moulted", "doubtful", "rough" };

  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    cli_out_null (&cli->out, keys[i]);
}

/* Nothing is to come: every key of the contract is null, `why` says which case. */
static void
put_none (Cli *cli, const CoreForecast *forecast)
{
  WordsView view = cli_view (cli);
  g_autofree char *text = words_forecast (&view, forecast);

  cli_put_none_of_one (cli);
  cli_out_null (&cli->out, "reasons");
  cli_out_bool (&cli->out, "none_expected", words_forecast_none_expected (forecast));
  cli_put_standstill (cli, &forecast->still);
  cli_out_str (&cli->out, "why", words_no_forecast_id (forecast->why));
  cli_out_str (&cli->out, "text", text);
}

CliExit
cli_forecast (Cli *cli)
{
  WordsView view = cli_view (cli);
  CliExit code = CLI_OK;
  g_autoptr (DeskSubject) subject = cli_subject (cli, 0, &code);
  g_autofree char *text = NULL;
  const CoreForecast *forecast;
  const CoreState *state;

  if (subject == NULL)
    return code;
  if (desk_subject_kind (subject) == CORE_SUBJECT_LOT)
    return cli_forecast_lot (cli, subject);
  forecast = desk_subject_forecast (subject);
  state = desk_subject_state (subject);
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "subject", desk_subject_label (subject));
  if (forecast->why != CORE_NO_FORECAST_NONE)
    put_none (cli, forecast);
  else
    {
      cli_out_day (&cli->out, "p10", forecast->p10);
      cli_out_day (&cli->out, "p50", forecast->p50);
      cli_out_day (&cli->out, "p90", forecast->p90);
      put_days (cli, forecast);
      cli_out_num (&cli->out, "by_now", forecast->by_now, 4);
      cli_out_num (&cli->out, "within3", forecast->within3, 4);
      cli_out_num (&cli->out, "within7", forecast->within7, 4);
      cli_out_num (&cli->out, "within14", forecast->within14, 4);
      cli_out_num (&cli->out, "not_normal", forecast->not_normal, 4);
      cli_out_num (&cli->out, "beyond", forecast->beyond, 4);
      cli_out_bool (&cli->out, "none_expected", words_forecast_none_expected (forecast));
      cli_out_day (&cli->out, "last_look", forecast->last_look);
      cli_out_bool (&cli->out, "in_range", forecast->in_range);
      cli_out_bool (&cli->out, "longer_than_usual", forecast->longer_than_usual);
      cli_out_bool (&cli->out, "seen_past_range", forecast->seen_past_range);
      cli_out_bool (&cli->out, "probably_moulted", forecast->probably_moulted);
      cli_out_bool (&cli->out, "doubtful", words_forecast_doubtful (forecast));
      cli_out_bool (&cli->out, "rough", words_forecast_rough (state, state->species[0] != '\0'));
      put_moulting (cli, forecast);
      cli_put_standstill (cli, &forecast->still);
      cli_put_reasons (cli, forecast->reasons, forecast->n_reasons, TRUE);
      put_adult (cli, forecast);
      cli_out_null (&cli->out, "why");
      text = words_forecast_of (&view, state, forecast);
      cli_out_str (&cli->out, "text", text);
    }
  put_fasting (cli, subject);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* ---- growth ---- */

/* Why there is no length; NULL = there is one. */
static const char *
growth_why (const CoreState *state, const CoreGrowth *growth, gboolean next)
{
  if (next && state->adult)
    return "adult";
  if (growth->known)
    return NULL;
  if (growth->moults >= 0 && growth->moults <= CORE_MAX_MOULTS)
    return "not_measured";
  return state->adult ? "adult" : "stage_unknown";
}

CliExit
cli_growth (Cli *cli)
{
  static const char *const dimensions[] = { "body", "head", "pronotum", NULL };
  const char *what = cli_option (cli, "what");
  int dimension = what == NULL ? -1 : core_word_index (dimensions, what);
  double moults = -1;
  CliExit code = CLI_OK;
  g_autoptr (DeskSubject) subject = NULL;
  CoreGrowth growth;
  const char *why;

  if (dimension < 0)
    return cli_usage_error (cli, "--what is head, body or pronotum.");
  if (!cli_option_number (cli, "moults", &moults))
    return CLI_USAGE;
  if (cli_option (cli, "moults") != NULL &&
      (moults < 0 || moults > CORE_MAX_MOULTS || moults != floor (moults)))
    return cli_refuse ("--moults is a whole number from 0 to %d.", CORE_MAX_MOULTS);
  subject = cli_subject (cli, 0, &code);
  if (subject == NULL)
    return code;
  if (desk_subject_kind (subject) != CORE_SUBJECT_ANIMAL)
    return cli_refuse ("'%s' is no animal.", cli_word (cli, 0));
  growth = desk_growth (cli->desk, subject, (CoreDimension) dimension, (int) moults);
  why = growth_why (desk_subject_state (subject), &growth, moults < 0);
  if (why != NULL) /* no stage of an adult is still to come */
    growth.known = false;
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "subject", desk_subject_label (subject));
  cli_out_str (&cli->out, "what", what);
  if (growth.known && growth.moults >= 0)
    cli_out_int (&cli->out, "moults", growth.moults);
  else
    cli_out_null (&cli->out, "moults");
  cli_out_num (&cli->out, "p10", growth.known ? growth.p10 : NAN, 2);
  cli_out_num (&cli->out, "p50", growth.known ? growth.p50 : NAN, 2);
  cli_out_num (&cli->out, "p90", growth.known ? growth.p90 : NAN, 2);
  cli_out_int (&cli->out, "measured", growth.measured);
  cli_out_str (&cli->out, "why", why);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* ---- plan ---- */

#define PLAN_DAYS 27

static void
put_prey (Cli *cli, const CoreTask *task)
{
  if (task->kind != CORE_TASK_FEED)
    return;
  cli_out_array (&cli->out, "prey");
  for (gsize i = 0; i < task->n_prey; i++)
    {
      cli_out_open (&cli->out, NULL);
      cli_out_str (&cli->out, "name", core_prey_name (task->prey[i].prey));
      if (task->prey[i].n > 0)
        cli_out_int (&cli->out, "n", task->prey[i].n);
      else
        cli_out_null (&cli->out, "n");
      cli_out_num (&cli->out, "mm", task->prey[i].mm, 2);
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
}

static void
put_task (Cli *cli, const DeskTask *row)
{
  WordsView view = cli_view (cli);
  const CoreTask *task = &row->task;
  g_autofree char *text = words_task_title (&view, task);

  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "id", task->id);
  cli_out_str (&cli->out, "subject", desk_subject_label (row->subject));
  cli_out_str (&cli->out, "kind", core_task_name (task->kind));
  cli_out_str (&cli->out, "reach", core_reach_name (task->reach));
  cli_out_day (&cli->out, "earliest", task->earliest);
  cli_out_day (&cli->out, "due", task->due);
  cli_out_day (&cli->out, "latest", task->latest);
  cli_out_num (&cli->out, "weight", task->weight, 3);
  cli_out_bool (&cli->out, "missed", core_task_missed (task, cli->today));
  put_prey (cli, task);
  cli_put_reasons (cli, task->reasons, task->n_reasons, FALSE);
  cli_out_str (&cli->out, "text", text);
  cli_out_close (&cli->out);
}

static void
put_held (Cli *cli, const DeskHeldTask *row)
{
  WordsView view = cli_view (cli);
  const CoreHeld *held = &row->held;
  g_autofree char *text = words_held (&view, held);

  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "subject", desk_subject_label (row->subject));
  cli_out_str (&cli->out, "kind", core_task_name (held->kind));
  cli_out_day (&cli->out, "until", held->until);
  cli_out_day (&cli->out, "ask_again", held->ask_again);
  cli_put_reasons (cli, held->reasons, held->n_reasons, FALSE);
  cli_out_str (&cli->out, "text", text);
  cli_out_close (&cli->out);
}

/* ---- left from earlier evenings: one line a shelf ---- */

static GPtrArray *
missed_in (Cli *cli, const DeskPlan *plan)
{
  GPtrArray *missed = desk_missed_new ();

  for (guint i = 0; i < plan->tasks->len; i++)
    {
      const DeskTask *row = &g_array_index (plan->tasks, DeskTask, i);

      (void) desk_missed_add (cli->desk, missed, row->subject, &row->task);
    }
  desk_missed_done (cli->desk, missed);
  return missed;
}

static void
put_missed (Cli *cli, const DeskMissed *missed)
{
  g_autofree char *text = desk_missed_text (missed, cli_lang (cli));

  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "place", missed->shelf != NULL ? desk_subject_label (missed->shelf) : NULL);
  cli_out_int (&cli->out, "n", missed->n);
  cli_out_open (&cli->out, "subjects");
  for (int kind = 0; kind < CORE_N_TASKS; kind++)
    {
      if (missed->subjects[kind] == NULL)
        continue;
      cli_out_array (&cli->out, core_task_name ((CoreTaskKind) kind));
      for (guint i = 0; i < missed->subjects[kind]->len; i++)
        cli_out_str (&cli->out, NULL, desk_subject_label (missed->subjects[kind]->pdata[i]));
      cli_out_array_end (&cli->out);
    }
  cli_out_close (&cli->out);
  cli_out_array (&cli->out, "unseen");
  for (guint i = 0; missed->unseen != NULL && i < missed->unseen->len; i++)
    cli_out_str (&cli->out, NULL, missed->unseen->pdata[i]);
  cli_out_array_end (&cli->out);
  cli_out_str (&cli->out, "text", text);
  cli_out_close (&cli->out);
}

static CliExit
plan_place (Cli *cli, CoreId *place)
{
  const char *name = cli_option (cli, "place");
  g_autoptr (DeskSubject) subject = NULL;
  GError *error = NULL;

  *place = (CoreId){ 0 };
  if (name == NULL)
    return CLI_OK;
  subject = desk_find (cli->desk, name, &error);
  if (subject == NULL)
    return cli_fail (error);
  if (desk_subject_kind (subject) != CORE_SUBJECT_PLACE)
    return cli_refuse ("'%s' is no place.", name);
  *place = desk_subject_id (subject);
  return CLI_OK;
}

/* ---- the plan for people: a line a task, under its day ---- */

static void
say_reasons (Cli *cli, const CoreReason *reasons, gsize n)
{
  WordsView view = cli_view (cli);

  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *text = words_reason (&view, &reasons[i]);

      g_string_append_printf (cli->out.text, " %s", text);
    }
  g_string_append_c (cli->out.text, '\n');
}

static void
say_day (Cli *cli, CoreDay day, CoreDay *last)
{
  WordsView view = cli_view (cli);
  g_autofree char *text = NULL;

  day = MAX (day, cli->today);
  if (day == *last)
    return;
  text = words_plan_day (&view, day);
  g_string_append_printf (cli->out.text, "%s%s\n", cli->out.text->len > 0 ? "\n" : "", text);
  *last = day;
}

/* What was missed is of today, and stands behind it; where a cup was not seen for days, before it. */
static void
say_missed (Cli *cli, GPtrArray *missed, gboolean unseen, CoreDay *last)
{
  for (guint i = 0; i < missed->len; i++)
    {
      const DeskMissed *one = missed->pdata[i];
      g_autofree char *text = desk_missed_text (one, cli_lang (cli));

      if ((one->unseen != NULL) != unseen)
        continue;
      say_day (cli, cli->today, last);
      g_string_append_printf (cli->out.text, "  %s%s%s\n", desk_missed_name (one), one->shelf != NULL ? ": " : "", text);
    }
}

static CliExit
say_plan (Cli *cli, const DeskPlan *plan)
{
  WordsView view = cli_view (cli);
  CoreDay last = CORE_DAY_NONE;
  g_autoptr (GPtrArray) missed = missed_in (cli, plan);
  gboolean said = FALSE;

  say_missed (cli, missed, TRUE, &last);
  for (guint i = 0; i < plan->tasks->len; i++)
    {
      const DeskTask *row = &g_array_index (plan->tasks, DeskTask, i);
      g_autofree char *title = words_task_title (&view, &row->task);

      if (core_task_missed (&row->task, cli->today))
        continue;
      if (!said && row->task.due > cli->today)
        {
          say_missed (cli, missed, FALSE, &last);
          said = TRUE;
        }
      say_day (cli, row->task.due, &last);
      g_string_append_printf (cli->out.text, "  %-6s %s.", desk_subject_label (row->subject),
                              title);
      say_reasons (cli, row->task.reasons, row->task.n_reasons);
    }
  if (!said)
    say_missed (cli, missed, FALSE, &last);
  for (guint i = 0; i < plan->held->len; i++)
    {
      const DeskHeldTask *row = &g_array_index (plan->held, DeskHeldTask, i);
      g_autofree char *text = words_held (&view, &row->held);

      if (i == 0)
        g_string_append_printf (cli->out.text, "\n%s\n", words_plan_held (view.lang));
      g_string_append_printf (cli->out.text, "  %-6s %s.", desk_subject_label (row->subject), text);
      say_reasons (cli, row->held.reasons, row->held.n_reasons);
    }
  return cli_finish (cli);
}

CliExit
cli_plan (Cli *cli)
{
  CoreDay from = cli->today, to = CORE_DAY_NONE;
  CoreId place;
  CliExit code;
  g_autoptr (DeskPlan) plan = NULL;
  g_autoptr (GPtrArray) missed = NULL;

  if (!cli_option_day (cli, "from", &from) || !cli_option_day (cli, "to", &to))
    return CLI_USAGE;
  if (to == CORE_DAY_NONE)
    to = from + (cli->json || cli_option (cli, "from") != NULL ? PLAN_DAYS : 0);
  if (to < from || to - from > 366)
    return cli_refuse ("--to is at least --from, and at most 366 days later.");
  code = plan_place (cli, &place);
  if (code != CLI_OK)
    return code;
  plan = desk_plan (cli->desk, from, to, place);
  if (!cli->json)
    return say_plan (cli, plan);
  missed = missed_in (cli, plan);
  cli_out_open (&cli->out, NULL);
  cli_out_day (&cli->out, "today", cli->today);
  cli_out_array (&cli->out, "tasks");
  for (guint i = 0; i < plan->tasks->len; i++)
    put_task (cli, &g_array_index (plan->tasks, DeskTask, i));
  cli_out_array_end (&cli->out);
  cli_out_array (&cli->out, "held");
  for (guint i = 0; i < plan->held->len; i++)
    put_held (cli, &g_array_index (plan->held, DeskHeldTask, i));
  cli_out_array_end (&cli->out);
  cli_out_array (&cli->out, "missed");
  for (guint i = 0; i < missed->len; i++)
    put_missed (cli, missed->pdata[i]);
  cli_out_array_end (&cli->out);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}
