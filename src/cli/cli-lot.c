/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-lot.c — the verbs of lots, and what `state` says of lots, egg cases, places, cultures
 * and of where a subject comes from. */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include "core/core-date.h"
#include "core/core-lot.h"
#include "desk/desk-doubt.h"

#define MOST_ANIMALS 100000

/* ---- the verbs ---- */

/* The lot named by word i; NULL: said so. */
static DeskSubject *
lot_word (Cli *cli, guint i, CliExit *code)
{
  g_autoptr (DeskSubject) lot = cli_subject (cli, i, code);

  if (lot == NULL || desk_subject_kind (lot) == CORE_SUBJECT_LOT)
    return g_steal_pointer (&lot);
  *code = cli_refuse ("'%s' is no lot.", cli_word (cli, i));
  return NULL;
}

static CliExit
number_of (Cli *cli, const char *text, guint *n)
{
  double value;

  if (!core_number_parse (text, &value))
    return cli_usage_error (cli, "'%s' is no number of animals.", text);
  if (!(value >= 0 && value <= MOST_ANIMALS && value == floor (value)))
    return cli_refuse ("'%s' is no number of animals: a whole number from 0 to %d.", text,
                       MOST_ANIMALS);
  *n = (guint) value;
  return CLI_OK;
}

/* How many of those taken out had moulted before the others; -1 = not said. */
static CliExit
moulted_option (Cli *cli, int *moulted)
{
  const char *text = cli_option (cli, "moulted");
  guint n = 0;
  CliExit code = text != NULL ? number_of (cli, text, &n) : CLI_OK;

  *moulted = text != NULL ? (int) n : -1;
  return code;
}

/* How many, and how many of them had moulted. */
static CliExit
read_numbers (Cli *cli, guint *n, int *moulted)
{
  CliExit code = number_of (cli, cli_word (cli, 1), n);

  return code == CLI_OK ? moulted_option (cli, moulted) : code;
}

/* What is in the lot after the verb. */
static void
put_rest (Cli *cli, CoreId lot)
{
  g_autoptr (DeskSubject) subject = desk_get (cli->desk, lot);
  const CoreTally *tally = &desk_subject_state (subject)->tally;

  cli_out_str (&cli->out, "lot", desk_subject_label (subject));
  cli_out_int (&cli->out, "count", tally->count);
  cli_out_bool (&cli->out, "counted", tally->counted);
}

CliExit
cli_separate (Cli *cli)
{
  CliExit code = CLI_OK;
  CoreDay day = CORE_DAY_NONE;
  CoreId place = { 0 };
  guint n = 0;
  int moulted;
  GError *error = NULL;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GPtrArray) made = NULL;
  g_autofree char *before = NULL;
  g_autoptr (DeskSubject) lot = lot_word (cli, 0, &code);

  if (lot == NULL)
    return code;
  code = read_numbers (cli, &n, &moulted);
  if (code != CLI_OK)
    return code;
  if (!cli_option_past (cli, "day", &day))
    return CLI_USAGE;
  if (cli_option (cli, "place") != NULL)
    {
      g_autoptr (DeskSubject) shelf = desk_find (cli->desk, cli_option (cli, "place"), &error);

      if (shelf == NULL)
        return cli_fail (error);
      if (desk_subject_kind (shelf) != CORE_SUBJECT_PLACE)
        return cli_refuse ("'%s' is no place.", cli_option (cli, "place"));
      place = desk_subject_id (shelf);
    }
  before = desk_doubt_before_count (cli->desk, desk_subject_id (lot), n, day, WORDS_LOCAL);
  desk_separate_async (cli->desk, desk_subject_id (lot), n, moulted, place, day, desk_sync_cb,
                       &sync);
  result = desk_sync_wait (&sync);
  made = desk_separate_finish (cli->desk, result, &error);
  if (made == NULL)
    return cli_fail (error);
  if (before != NULL)
    g_printerr ("mantidary-cli: It is recorded. %s\n", before);
  cli_out_open (&cli->out, NULL);
  put_rest (cli, desk_subject_id (lot));
  cli_out_array (&cli->out, "subjects");
  for (guint i = 0; i < made->len; i++)
    cli_out_str (&cli->out, NULL, desk_subject_label (made->pdata[i]));
  cli_out_array_end (&cli->out);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

CliExit
cli_split (Cli *cli)
{
  CliExit code = CLI_OK;
  CoreDay day = CORE_DAY_NONE;
  guint n = 0;
  int moulted;
  GError *error = NULL;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSubject) part = NULL;
  g_autoptr (DeskSubject) lot = lot_word (cli, 0, &code);

  if (lot == NULL)
    return code;
  code = read_numbers (cli, &n, &moulted);
  if (code != CLI_OK)
    return code;
  if (!cli_option_past (cli, "day", &day))
    return CLI_USAGE;
  desk_split_async (cli->desk, desk_subject_id (lot), n, moulted, cli_option (cli, "code"), day,
                    desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  part = desk_split_finish (cli->desk, result, &error);
  if (part == NULL)
    return cli_fail (error);
  cli_out_open (&cli->out, NULL);
  put_rest (cli, desk_subject_id (lot));
  cli_out_str (&cli->out, "subject", desk_subject_label (part));
  cli_out_str (&cli->out, "code", desk_subject_state (part)->code);
  cli_out_id (&cli->out, "id", desk_subject_id (part));
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

CliExit
cli_join (Cli *cli)
{
  CliExit code = CLI_OK;
  CoreDay day = CORE_DAY_NONE;
  GError *error = NULL;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSubject) into = lot_word (cli, 0, &code);
  g_autoptr (DeskSubject) from = into != NULL ? lot_word (cli, 1, &code) : NULL;

  if (from == NULL)
    return code;
  if (!cli_option_past (cli, "day", &day))
    return CLI_USAGE;
  desk_join_async (cli->desk, desk_subject_id (into), desk_subject_id (from), day, desk_sync_cb,
                   &sync);
  result = desk_sync_wait (&sync);
  if (!desk_join_finish (cli->desk, result, &error))
    return cli_fail (error);
  cli_out_open (&cli->out, NULL);
  put_rest (cli, desk_subject_id (into));
  cli_out_str (&cli->out, "joined", desk_subject_label (from));
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

CliExit
cli_recount (Cli *cli)
{
  CliExit code = CLI_OK;
  CoreDay day = CORE_DAY_NONE;
  CoreId id;
  guint n = 0;
  GError *error = NULL;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSubject) lot = lot_word (cli, 0, &code);
  g_autofree char *number = NULL;
  const char *pairs[3] = { NULL };

  if (lot == NULL)
    return code;
  code = number_of (cli, cli_word (cli, 1), &n);
  if (code != CLI_OK)
    return code;
  if (!cli_option_past (cli, "day", &day))
    return CLI_USAGE;
  pairs[0] = number = g_strdup_printf ("n=%u", n);
  pairs[1] = cli_option (cli, "about") != NULL ? "counted=no" : "counted=yes";
  desk_record_async (cli->desk, desk_subject_id (lot), "recounted", pairs, day, CORE_DAY_NONE, -1,
                     NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_record_finish (cli->desk, result, &id, &error))
    return cli_fail (error);
  g_clear_pointer (&lot, desk_subject_unref);
  lot = cli_subject (cli, 0, &code);
  if (lot == NULL)
    return cli_refuse ("The lot is gone.");
  cli_out_open (&cli->out, NULL);
  put_rest (cli, desk_subject_id (lot));
  cli_out_int (&cli->out, "lost_unseen", desk_subject_state (lot)->tally.lost_unseen);
  cli_out_int (&cli->out, "found_more", desk_subject_state (lot)->tally.found_more);
  cli_out_id (&cli->out, "id", id);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* ---- forecast ---- */

static void
put_when (Cli *cli, const char *key, const CoreLotForecast *forecast, const CoreLotWhen *when)
{
  static const char *const names[] = { "p10", "p50", "p90" };

  if (forecast->why != CORE_NO_FORECAST_NONE)
    {
      cli_out_null (&cli->out, key);
      return;
    }
  cli_out_open (&cli->out, key);
  cli_out_day (&cli->out, "p10", when->p10);
  cli_out_day (&cli->out, "p50", when->p50);
  cli_out_day (&cli->out, "p90", when->p90);
  cli_out_open (&cli->out, "days");
  for (int q = 0; q < 3; q++)
    cli_out_num (&cli->out, names[q], when->days[q], 2);
  cli_out_close (&cli->out);
  cli_out_close (&cli->out);
}

void
cli_put_lot_when (Cli *cli, const CoreLotForecast *forecast)
{
  put_when (cli, "first", forecast, &forecast->first);
  put_when (cli, "median", forecast, &forecast->median);
  put_when (cli, "last", forecast, &forecast->last);
}

CliExit
cli_forecast_lot (Cli *cli, DeskSubject *lot)
{
  WordsView view = cli_view (cli);
  const CoreLotForecast *forecast = desk_subject_lot_forecast (lot);
  g_autofree char *text = words_lot_forecast (&view, forecast);
  CoreReason reasons[CORE_LOT_REASONS];
  gsize n = desk_subject_lot_reasons (lot, reasons);

  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "subject", desk_subject_label (lot));
  cli_put_lot_when (cli, forecast);
  cli_out_int (&cli->out, "n", forecast->n);
  cli_out_int (&cli->out, "moulted", forecast->moulted);
  cli_out_int (&cli->out, "moulted_most", MAX (forecast->moulted, forecast->moulted_most));
  cli_out_bool (&cli->out, "counted", forecast->n > 0 && !forecast->about);
  cli_out_bool (&cli->out, "none_expected", forecast->still.why != CORE_STILL_NOT);
  cli_put_standstill (cli, &forecast->still);
  cli_put_none_of_one (cli);
  cli_out_null (&cli->out, "fasting");
  cli_put_reasons (cli, reasons, n, TRUE);
  if (forecast->why != CORE_NO_FORECAST_NONE)
    cli_out_str (&cli->out, "why", words_no_forecast_id (forecast->why));
  else
    cli_out_null (&cli->out, "why");
  cli_out_str (&cli->out, "text", text);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* ---- state ---- */

static void
put_number (Cli *cli, const char *key, double value)
{
  cli_out_num (&cli->out, key, value, 3);
}

static void
put_setting (Cli *cli, const CoreState *state, const char *key)
{
  cli_out_str (&cli->out, key, core_state_setting (state, key));
}

static void
put_label (Cli *cli, const char *key, CoreId id)
{
  g_autoptr (DeskSubject) other = core_id_is_none (id) ? NULL : desk_get (cli->desk, id);

  cli_out_str (&cli->out, key, other != NULL ? desk_subject_label (other) : NULL);
}

/* A setting whose value is a subject. */
static void
put_ref (Cli *cli, const CoreState *state, const char *key)
{
  const char *value = core_state_setting (state, key);
  CoreId id = { 0 };

  if (value == NULL || !core_id_from_text (value, &id))
    id = (CoreId){ 0 };
  put_label (cli, key, id);
}

static void
put_origin (Cli *cli, const CoreState *state)
{
  put_setting (cli, state, "origin");
  put_setting (cli, state, "locality");
  put_setting (cli, state, "species_sure");
  put_ref (cli, state, "mother");
  put_ref (cli, state, "father");
  put_setting (cli, state, "line");
  put_setting (cli, state, "generation");
  put_label (cli, "lot", state->lot);
  put_ref (cli, state, "eggcase");
}

static void
put_hatch (Cli *cli, const CoreState *state)
{
  if (!state->hatched)
    {
      cli_out_null (&cli->out, "hatched");
      return;
    }
  cli_out_open (&cli->out, "hatched");
  cli_out_day (&cli->out, "earliest", state->hatched_earliest);
  cli_out_day (&cli->out, "latest", state->hatched_day);
  cli_out_close (&cli->out);
}

/* The seller's stage in the seller's scheme, beside the keeper's. */
static void
put_claim (Cli *cli, const CoreState *state)
{
  if (state->claim_stage[0] == '\0')
    {
      cli_out_null (&cli->out, "claim");
      return;
    }
  cli_out_open (&cli->out, "claim");
  cli_out_str (&cli->out, "stage", state->claim_stage);
  if (state->claim_scheme > 0)
    cli_out_int (&cli->out, "scheme", state->claim_scheme);
  else
    cli_out_null (&cli->out, "scheme");
  cli_out_close (&cli->out);
}

/* How many are in which stage. */
static void
put_stage_of (Cli *cli, int moults, gint64 least, gint64 most)
{
  g_autofree char *stage = words_stage_number (moults, desk_scheme (cli->desk));

  cli_out_open (&cli->out, NULL);
  cli_out_int (&cli->out, "moults", moults);
  cli_out_str (&cli->out, "stage", stage);
  cli_out_int (&cli->out, "least", least);
  cli_out_int (&cli->out, "most", most);
  cli_out_close (&cli->out);
}

/* Empty where nothing tells them apart, or how many there are is not known. */
static void
put_stages (Cli *cli, const CoreState *state)
{
  gint64 least, most;

  core_lot_ahead (state, &least, &most);
  cli_out_array (&cli->out, "stages");
  if (most > 0 && state->moults >= 0 && state->tally.known)
    {
      put_stage_of (cli, state->moults, state->tally.count - most, state->tally.count - least);
      put_stage_of (cli, state->moults + 1, least, most);
    }
  cli_out_array_end (&cli->out);
}

static void
put_tally (Cli *cli, const CoreTally *tally)
{
  if (tally->known)
    cli_out_int (&cli->out, "count", tally->count);
  else
    cli_out_null (&cli->out, "count");
  cli_out_bool (&cli->out, "counted", tally->known && tally->counted);
  cli_out_day (&cli->out, "count_day", tally->count_day);
  cli_out_int (&cli->out, "began", MAX (0, tally->began));
  cli_out_int (&cli->out, "dead", tally->dead);
  cli_out_int (&cli->out, "left", tally->left);
  cli_out_int (&cli->out, "escaped", tally->escaped);
  cli_out_int (&cli->out, "lost_unseen", tally->lost_unseen);
  cli_out_bool (&cli->out, "lost_unseen_about", tally->lost_about);
  cli_out_bool (&cli->out, "began_about", tally->began_about);
  cli_out_bool (&cli->out, "began_derived", tally->began_derived);
  cli_out_int (&cli->out, "found_more", tally->found_more);
  cli_out_int (&cli->out, "separated", tally->separated);
  cli_out_int (&cli->out, "split_off", tally->split_off);
  cli_out_int (&cli->out, "joined_in", tally->joined_in);
}

/* May the lot be enough to breed from? */
static void
put_pair (Cli *cli, DeskSubject *lot)
{
  CorePair pair = core_pair_of_lot (desk_subject_state (lot), desk_subject_profile (lot));

  cli_out_bool (&cli->out, "needs_male", pair.why != CORE_PAIR_NO_MALE);
  cli_out_num (&cli->out, "pair", pair.chance, 6);
}

static int
series_among_hers (Cli *cli, const CoreLaying *laying)
{
  g_autoptr (DeskSubject) eggcase =
    core_id_is_none (laying->eggcase) ? NULL : desk_get (cli->desk, laying->eggcase);
  int series = eggcase != NULL ? desk_series_of (cli->desk, eggcase) : 0;

  return series > 0 ? series : laying->series;
}

static void
put_layings (Cli *cli, const CoreState *state)
{
  cli_out_array (&cli->out, "egg_cases");
  for (gsize i = 0; i < state->layings.n; i++)
    {
      const CoreLaying *laying = &state->layings.v[i];

      cli_out_open (&cli->out, NULL);
      put_label (cli, "eggcase", laying->eggcase);
      cli_out_day (&cli->out, "day", laying->day);
      cli_out_day (&cli->out, "earliest", laying->earliest);
      cli_out_int (&cli->out, "series", series_among_hers (cli, laying));
      cli_out_bool (&cli->out, "kept", !core_id_is_none (laying->eggcase));
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
}

static void
put_hatchings (Cli *cli, const CoreEggState *egg)
{
  cli_out_array (&cli->out, "hatchings");
  for (gsize i = 0; i < egg->hatchings.n; i++)
    {
      const CoreHatching *hatching = &egg->hatchings.v[i];

      cli_out_open (&cli->out, NULL);
      cli_out_day (&cli->out, "day", hatching->day);
      cli_out_day (&cli->out, "earliest", hatching->earliest);
      if (hatching->n >= 0)
        cli_out_int (&cli->out, "n", hatching->n);
      else
        cli_out_null (&cli->out, "n");
      cli_out_bool (&cli->out, "counted", hatching->n >= 0 && hatching->counted);
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
}

static void
put_egg (Cli *cli, DeskSubject *subject)
{
  const CoreState *state = desk_subject_state (subject);
  const CoreEggState *egg = &state->egg;
  int series = desk_series_of (cli->desk, subject);

  if (series > 0)
    cli_out_int (&cli->out, "series", series);
  else
    cli_out_null (&cli->out, "series");
  if (egg->laid_day != CORE_DAY_NONE)
    {
      cli_out_open (&cli->out, "laid");
      cli_out_day (&cli->out, "earliest", egg->laid_earliest);
      cli_out_day (&cli->out, "latest", egg->laid_day);
      cli_out_close (&cli->out);
    }
  else
    cli_out_null (&cli->out, "laid");
  cli_out_day (&cli->out, "hardened", egg->hardened);
  cli_out_int (&cli->out, "hatched_n", egg->hatched);
  cli_out_bool (&cli->out, "hatched_counted", !egg->hatched_about);
  cli_out_int (&cli->out, "in_lots", egg->in_lots);
  put_hatchings (cli, egg);
  cli_out_bool (&cli->out, "dud", state->end == CORE_END_DUD);
}

static void
put_place_state (Cli *cli, const CoreState *state)
{
  const CorePlaceState *place = &state->place;

  put_label (cli, "within", place->within);
  put_setting (cli, state, "purpose");
  put_number (cli, "height_mm", place->height_mm);
  put_number (cli, "width_mm", place->width_mm);
  put_number (cli, "depth_mm", place->depth_mm);
  put_setting (cli, state, "ventilation");
  put_setting (cli, state, "lid");
  put_setting (cli, state, "substrate");
  put_setting (cli, state, "heater");
  put_number (cli, "day_c", place->day_c);
  put_number (cli, "night_c", place->night_c);
  put_number (cli, "light_h", place->light_h);
}

static void
put_culture (Cli *cli, const CoreCultureState *culture)
{
  cli_out_str (&cli->out, "prey", culture->prey >= 0 ? core_prey_name (culture->prey) : NULL);
  cli_out_day (&cli->out, "started", culture->started);
}

static const char *const end_names[] = {
  [CORE_END_DIED] = "died",   [CORE_END_LEFT] = "left",     [CORE_END_ESCAPED] = "escaped",
  [CORE_END_EMPTY] = "empty", [CORE_END_JOINED] = "joined", [CORE_END_HATCHED] = "hatched",
  [CORE_END_DUD] = "dud",
};

static const char *const kind_names[] = {
  [CORE_SUBJECT_ANIMAL] = "animal",   [CORE_SUBJECT_LOT] = "lot",
  [CORE_SUBJECT_EGGCASE] = "eggcase", [CORE_SUBJECT_PLACE] = "place",
  [CORE_SUBJECT_CULTURE] = "culture", [CORE_SUBJECT_JOURNAL] = "journal",
};

const char *
cli_subject_kind (const DeskSubject *subject)
{
  return kind_names[desk_subject_kind (subject)];
}

void
cli_put_of_kind (Cli *cli, DeskSubject *subject)
{
  const CoreState *state = desk_subject_state (subject);
  CoreSubjectKind kind = desk_subject_kind (subject);
  gboolean living_thing =
    kind == CORE_SUBJECT_ANIMAL || kind == CORE_SUBJECT_LOT || kind == CORE_SUBJECT_EGGCASE;

  cli_out_str (&cli->out, "kind", cli_subject_kind (subject));
  cli_out_str (&cli->out, "end", end_names[state->end]);
  cli_out_day (&cli->out, "end_day", state->end_day);
  if (living_thing)
    put_origin (cli, state);
  if (kind == CORE_SUBJECT_ANIMAL || kind == CORE_SUBJECT_LOT)
    {
      put_hatch (cli, state);
      put_claim (cli, state);
    }
  if (kind == CORE_SUBJECT_ANIMAL || kind == CORE_SUBJECT_LOT)
    {
      cli_out_bool (&cli->out, "lent", state->lent);
      cli_out_day (&cli->out, "looks_dead", state->looks_dead);
    }
  if (kind == CORE_SUBJECT_ANIMAL)
    {
      cli_out_day (&cli->out, "doubtful_since", state->doubtful_since);
      put_layings (cli, state);
    }
  if (kind == CORE_SUBJECT_LOT)
    {
      put_tally (cli, &state->tally);
      put_pair (cli, subject);
      put_stages (cli, state);
    }
  if (kind == CORE_SUBJECT_EGGCASE)
    put_egg (cli, subject);
  if (kind == CORE_SUBJECT_PLACE)
    put_place_state (cli, state);
  if (kind == CORE_SUBJECT_CULTURE)
    put_culture (cli, &state->culture);
}
