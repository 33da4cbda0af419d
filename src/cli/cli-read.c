/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-read.c — state, history and check: what the journal says. */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include "core/core-date.h"
#include "core/core-lot.h"
#include "desk/desk-identity.h"

/* ---- state ---- */

static const char *const basis_names[] = {
  [CORE_BASIS_UNKNOWN] = "unknown",
  [CORE_BASIS_ESTIMATED] = "estimated",
  [CORE_BASIS_COUNTED] = "counted",
};

static const char *const conflict_names[] = {
  [CORE_CONFLICT_BEFORE_HATCH] = "before_hatch",
  [CORE_CONFLICT_AFTER_END] = "after_end",
  [CORE_CONFLICT_TWO_HATCHES] = "two_hatches",
  [CORE_CONFLICT_ADULT_MOULTED] = "adult_moulted",
  [CORE_CONFLICT_TWO_REPLACEMENTS] = "two_replacements",
  [CORE_CONFLICT_NAMES_MISSING] = "names_missing",
  [CORE_CONFLICT_SEX_SETTLED_TWICE] = "sex_settled_twice",
  [CORE_CONFLICT_NUMBER_TAKEN] = "number_taken",
  [CORE_CONFLICT_TALLY] = "tally",
  [CORE_CONFLICT_CODE_TAKEN] = "code_taken",
  [CORE_CONFLICT_TWO_LAYINGS] = "two_layings",
  [CORE_CONFLICT_BEFORE_LAID] = "before_laid",
  [CORE_CONFLICT_ADULT_YOUNGER] = "adult_younger",
  [CORE_CONFLICT_MEASURES] = "measures",
  [CORE_CONFLICT_FEW_MOULTS] = "few_moults",
  [CORE_CONFLICT_YOUNG] = "young",
  [CORE_CONFLICT_SUBADULT_MOULTED] = "subadult_moulted",
  [CORE_CONFLICT_TWO_MARKS] = "two_marks",
  [CORE_CONFLICT_FUTURE] = "future",
  [CORE_CONFLICT_NAME_TAKEN] = "name_taken",
  [CORE_CONFLICT_TWO_READINGS] = "two_readings",
  [CORE_CONFLICT_NAMELESS] = "nameless",
  [CORE_CONFLICT_TWO_MOULTS] = "two_moults",
  [CORE_CONFLICT_CORRECTED_AND_VOIDED] = "corrected_and_voided",
};

const char *
cli_conflict_kind (CoreConflictKind kind)
{
  return conflict_names[kind];
}

/* Of a lot of which some are a moult ahead the chances are those of one of it. */
static double
moults_of (const CoreState *state, double p[CORE_MAX_MOULTS + 1])
{
  memcpy (p, state->moults_p, sizeof state->moults_p);
  if (state->kind != CORE_SUBJECT_LOT || state->ahead.n == 0)
    return state->moults_sd;
  core_lot_moults (state, p);
  return core_moults_sd (p);
}

static void
put_moults (Cli *cli, const CoreState *state)
{
  double p[CORE_MAX_MOULTS + 1], sd = moults_of (state, p);

  cli_out_open (&cli->out, "moults");
  if (state->moults >= 0)
    cli_out_int (&cli->out, "value", state->moults);
  else
    cli_out_null (&cli->out, "value");
  cli_out_num (&cli->out, "sd", state->moults >= 0 ? sd : NAN, 3);
  cli_out_str (&cli->out, "basis", basis_names[state->basis]);
  cli_out_open (&cli->out, "p");
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    if (p[m] > 0)
      {
        char key[8];

        g_snprintf (key, sizeof key, "%d", m);
        cli_out_num (&cli->out, key, p[m], 6);
      }
  cli_out_close (&cli->out);
  cli_out_close (&cli->out);
}

/* The window of days of the last moult: after the evening `lo`, by the evening `hi`. */
static void
put_last_moult (Cli *cli, const CoreState *state)
{
  const CoreStage *moult = NULL;

  for (gsize i = 0; i < state->stages.n; i++)
    if (state->stages.v[i].start == CORE_START_MOULTED)
      moult = &state->stages.v[i];
  if (moult == NULL)
    {
      cli_out_null (&cli->out, "last_moult");
      return;
    }
  cli_out_open (&cli->out, "last_moult");
  cli_out_day (&cli->out, "earliest",
               isfinite (moult->lo) ? (CoreDay) floor (moult->lo) + 1 : CORE_DAY_NONE);
  cli_out_day (&cli->out, "latest", (CoreDay) ceil (moult->hi));
  cli_out_close (&cli->out);
}

static void
put_hold (Cli *cli, const CoreHold *hold)
{
  if (hold->kind == CORE_HOLD_NONE)
    {
      cli_out_null (&cli->out, "hold");
      return;
    }
  cli_out_open (&cli->out, "hold");
  cli_out_str (&cli->out, "kind",
               hold->kind == CORE_HOLD_TROUBLE ? "trouble" : hold->kind == CORE_HOLD_AFTER ? "soft" : "moult");
  cli_out_str (&cli->out, "reach", core_reach_name (hold->reach));
  cli_out_day (&cli->out, "since", hold->since);
  cli_out_day (&cli->out, "until", hold->until);
  cli_out_day (&cli->out, "food_until", hold->food_until);
  cli_out_day (&cli->out, "touch_until", hold->touch_until);
  cli_out_day (&cli->out, "ask_again", hold->ask_again);
  cli_put_reasons (cli, hold->reasons, hold->n_reasons, FALSE);
  cli_out_close (&cli->out);
}

static void
put_conflicts (Cli *cli, const CoreState *state)
{
  WordsView view = cli_view (cli);

  cli_out_array (&cli->out, "conflicts");
  for (gsize i = 0; i < state->conflicts.n; i++)
    {
      const CoreConflict *conflict = &state->conflicts.v[i];
      g_autofree char *text = words_conflict (&view, conflict);

      cli_out_open (&cli->out, NULL);
      cli_out_str (&cli->out, "kind", cli_conflict_kind (conflict->kind));
      cli_out_id (&cli->out, "entry", conflict->entry);
      cli_out_id (&cli->out, "other", conflict->other);
      cli_out_str (&cli->out, "text", text);
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
}

static void
put_place (Cli *cli, DeskSubject *subject)
{
  CoreId id;
  g_autoptr (DeskSubject) place = NULL;

  if (desk_subject_place (subject, &id, NULL))
    place = desk_get (cli->desk, id);
  cli_out_str (&cli->out, "place", place != NULL ? desk_subject_label (place) : NULL);
}

static void
put_names (Cli *cli, DeskSubject *subject)
{
  const CoreState *state = desk_subject_state (subject);

  cli_out_str (&cli->out, "subject", desk_subject_label (subject));
  cli_out_str (&cli->out, "species", state->species[0] != '\0' ? state->species : NULL);
  cli_out_str (&cli->out, "name", state->name[0] != '\0' ? state->name : NULL);
  cli_out_str (&cli->out, "code", state->code[0] != '\0' ? state->code : NULL);
  cli_out_id (&cli->out, "id", desk_subject_id (subject));
}

/* Of a place: that it is entered too hot or too cold. */
static void
put_caution (Cli *cli, const DeskSubject *subject)
{
  WordsView view = cli_view (cli);
  CorePast past = desk_place_past (cli->desk, subject);
  g_autofree char *text = words_past (&view, &past);

  cli_out_str (&cli->out, "caution", text);
}

CliExit
cli_state (Cli *cli)
{
  WordsView view = cli_view (cli);
  CliExit code = CLI_OK;
  g_autoptr (DeskSubject) subject = cli_subject (cli, 0, &code);
  g_autofree char *stage = NULL;
  const CoreState *state;

  if (subject == NULL)
    return code;
  state = desk_subject_state (subject);
  cli_out_open (&cli->out, NULL);
  put_names (cli, subject);
  put_moults (cli, state);
  stage = words_stage (&view, state);
  cli_out_str (&cli->out, "stage", stage);
  cli_out_bool (&cli->out, "stage_stale",
                desk_subject_living (subject) && words_stage_stale (desk_subject_forecast (subject)));
  cli_out_bool (&cli->out, "adult", state->adult);
  cli_out_bool (&cli->out, "probably_adult", state->probably_adult);
  cli_out_bool (&cli->out, "alive", desk_subject_living (subject));
  cli_out_open (&cli->out, "sex");
  cli_put_verdict (cli, desk_subject_verdict (subject));
  cli_put_evidence (cli, desk_subject_verdict (subject), (CoreId){ 0 }, TRUE);
  cli_out_close (&cli->out);
  cli_out_day (&cli->out, "last_offered", state->last_offered);
  cli_out_day (&cli->out, "last_taken", state->last_taken);
  cli_out_int (&cli->out, "refusals_since_taken", state->refusals_since_taken);
  put_last_moult (cli, state);
  cli_out_day (&cli->out, "last_look", core_state_last_look (state));
  if (state->belly > 0)
    cli_out_int (&cli->out, "belly", state->belly);
  else
    cli_out_null (&cli->out, "belly");
  put_place (cli, subject);
  put_hold (cli, &desk_subject_plan (subject)->hold);
  put_conflicts (cli, state);
  put_caution (cli, subject);
  cli_put_of_kind (cli, subject);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* ---- history ---- */

static void
put_value (Cli *cli, const CoreValue *value, const CoreKindKey *key)
{
  switch (value->type)
    {
    case CORE_VALUE_INT:
      cli_out_int (&cli->out, key->name, (gint64) value->n);
      break;
    case CORE_VALUE_REAL:
      cli_out_num (&cli->out, key->name, value->n, 6);
      break;
    case CORE_VALUE_DAY:
      cli_out_day (&cli->out, key->name, (CoreDay) value->n);
      break;
    case CORE_VALUE_REF:
      cli_out_id (&cli->out, key->name, value->ref);
      break;
    case CORE_VALUE_CODE:
    case CORE_VALUE_TEXT:
    case CORE_VALUE_LIST:
    case CORE_VALUE_DIST:
    default:
      cli_out_str (&cli->out, key->name, value->text);
    }
}

/* What counts instead of one that was corrected; NULL = it counts itself, or nothing does. */
static const CoreEntry *
heir_of (Cli *cli, const CoreEntry *entry)
{
  const CoreEntry *heir =
    entry->kind != CORE_KIND_VOID && !desk_entry_is_live (cli->desk, entry->id)
      ? desk_entry_heir (cli->desk, entry->id)
      : NULL;

  return heir != NULL && !core_id_equal (heir->id, entry->id) ? heir : NULL;
}

char *
cli_entry_text (Cli *cli, DeskSubject *subject, const CoreEntry *entry)
{
  WordsView view = cli_view (cli);
  g_autofree char *place = desk_entry_names_subject (cli->desk, entry);
  g_autofree char *was = desk_entry_was_of (cli->desk, entry);
  g_autofree char *now = desk_entry_now_of (cli->desk, entry);
  g_autofree char *named_place = NULL;
  WordsEntry said = { .entry = entry,
                      .state = desk_subject_state (subject),
                      .taken_back = !desk_entry_is_live (cli->desk, entry->id),
                      .corrected = entry->kind != CORE_KIND_VOID && !core_id_is_none (entry->names),
                      .place = place,
                      .was_of = was,
                      .now_of = now };

  said.named = desk_entry_named (cli->desk, entry, &said.restores);
  named_place = said.named != NULL ? desk_entry_names_subject (cli->desk, said.named) : NULL;
  said.named_place = named_place;
  said.heir = heir_of (cli, entry);
  return words_entry (&view, &said);
}

static void
put_entry (Cli *cli, DeskSubject *subject, const CoreEntry *entry)
{
  g_autofree char *text = cli_entry_text (cli, subject, entry);
  g_autofree char *was = desk_entry_was_of (cli->desk, entry);
  g_autofree char *now = desk_entry_now_of (cli->desk, entry);
  const CoreEntry *heir = heir_of (cli, entry);
  g_autoptr (DeskSubject) lot =
    core_id_equal (entry->subject, desk_subject_id (subject)) ? NULL : desk_get (cli->desk, entry->subject);
  char clock[8];

  cli_out_open (&cli->out, NULL);
  cli_out_id (&cli->out, "id", entry->id);
  cli_out_str (&cli->out, "kind", core_kind_info (entry->kind)->name);
  cli_out_day (&cli->out, "day", entry->day);
  cli_out_day (&cli->out, "earliest", entry->earliest);
  g_snprintf (clock, sizeof clock, "%02d:%02d", entry->minute / 60 % 100, entry->minute % 60);
  cli_out_str (&cli->out, "time", entry->minute >= 0 ? clock : NULL);
  cli_out_bool (&cli->out, "live", desk_entry_is_live (cli->desk, entry->id));
  cli_out_id (&cli->out, "names", entry->names);
  cli_out_id (&cli->out, "counts", heir != NULL ? heir->id : (CoreId){ { 0 } });
  cli_out_str (&cli->out, "entered_with", was);
  cli_out_str (&cli->out, "belongs_to", now);
  cli_out_str (&cli->out, "of_lot", lot != NULL ? desk_subject_label (lot) : NULL);
  cli_out_id (&cli->out, "round", entry->round);
  cli_out_bool (&cli->out, "bulk", entry->bulk);
  cli_out_open (&cli->out, "values");
  for (gsize i = 0; i < entry->n_values; i++)
    {
      const CoreKindKey *key = core_kind_key (entry->kind, entry->values[i].key);

      if (key != NULL)
        put_value (cli, &entry->values[i], key);
    }
  cli_out_close (&cli->out);
  cli_out_str (&cli->out, "beyond", entry->beyond);
  cli_out_str (&cli->out, "text", text);
  cli_out_close (&cli->out);
}

/* For people: a line an entry, newest first, its id at the end for void and correct. */
static CliExit
say_history (Cli *cli, DeskSubject *subject, GPtrArray *entries)
{
  for (guint i = 0; i < entries->len; i++)
    {
      const CoreEntry *entry = entries->pdata[i];
      g_autofree char *text = cli_entry_text (cli, subject, entry);
      char day[11], id[37];

      core_day_to_text (entry->day, day);
      core_id_to_text (entry->id, id);
      g_strdelimit (text, "\n\r\t\v\f", ' '); /* a note of several lines stays one line here */
      g_string_append_printf (cli->out.text, "%s  %s  [%s]\n", day, text, id);
    }
  return cli_finish (cli);
}

CliExit
cli_history (Cli *cli)
{
  GError *error = NULL;
  g_autoptr (DeskSubject) subject = desk_find_ever (cli->desk, cli_word (cli, 0), &error);
  g_autoptr (GPtrArray) entries = NULL;

  if (subject == NULL)
    return cli_fail (error);
  entries = desk_history (cli->desk, desk_subject_id (subject), &error);
  if (entries == NULL)
    return cli_fail (error);
  if (!cli->json)
    return say_history (cli, subject, entries);
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "subject", desk_subject_label (subject));
  cli_out_array (&cli->out, "entries");
  for (guint i = 0; i < entries->len; i++)
    put_entry (cli, subject, entries->pdata[i]);
  cli_out_array_end (&cli->out);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* ---- check ---- */

static void
put_texts (Cli *cli, const char *key, const GPtrArray *texts)
{
  cli_out_array (&cli->out, key);
  for (guint i = 0; i < texts->len; i++)
    cli_out_str (&cli->out, NULL, texts->pdata[i]);
  cli_out_array_end (&cli->out);
}

CliExit
cli_check (Cli *cli)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskCheck) check = NULL;
  GError *error = NULL;
  CliExit written;

  desk_check_async (cli->desk, cli_lang (cli), NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  check = desk_check_finish (cli->desk, result, &error);
  if (check == NULL)
    return cli_fail (error);
  cli_out_open (&cli->out, NULL);
  cli_out_bool (&cli->out, "clean", check->clean);
  cli_out_int (&cli->out, "entries", check->entries);
  cli_out_int (&cli->out, "subjects", check->subjects);
  cli_out_int (&cli->out, "photos", check->photos);
  put_texts (cli, "conflicts", check->conflicts);
  put_texts (cli, "notes", check->notes);
  put_texts (cli, "problems", check->problems);
  cli_out_close (&cli->out);
  written = cli_finish (cli);
  if (written != CLI_OK)
    return written;
  /* Conflicts are facts to be settled by the keeper, no damage. */
  return check->clean ? CLI_OK : CLI_DAMAGED;
}
