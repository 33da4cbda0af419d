/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-write.c — the verbs that write: each waits for its finish before it answers. */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include "core/core-date.h"
#include "demo/demo.h"
#include "desk/desk-doubt.h"

/* ---- new ---- */

static CliExit
answer_path (Cli *cli, const char *dir)
{
  if (!cli->json)
    {
      g_string_append_printf (cli->out.text, "%s\n", dir);
      return cli_finish (cli);
    }
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "path", dir);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

static CliExit
new_demo (Cli *cli, const char *dir)
{
  GError *error = NULL;

  if (!demo_make (dir, cli->today, NULL, &error))
    return cli_fail (error);
  return answer_path (cli, dir);
}

/* A whole number of an option, which is there. */
static CliExit
option_count (Cli *cli, const char *name, double min, double max, double *value)
{
  if (!cli_option_number (cli, name, value))
    return CLI_USAGE;
  if (*value >= min && *value <= max && floor (*value) == *value)
    return CLI_OK;
  return cli_refuse ("--%s: expected a whole number from %.0f to %.0f.", name, min, max);
}

static CliExit
answer_synth (Cli *cli, const char *dir, const DemoSynthMade *made)
{
  if (!cli->json)
    {
      g_printerr ("%" G_GUINT64_FORMAT " entries of %u animals, %u of them living, on %u shelves\n",
                  made->entries, made->animals, made->living, made->shelves);
      return answer_path (cli, dir);
    }
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "path", dir);
  cli_out_int (&cli->out, "entries", (gint64) made->entries);
  cli_out_int (&cli->out, "animals", made->animals);
  cli_out_int (&cli->out, "living", made->living);
  cli_out_int (&cli->out, "places", made->shelves);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

static CliExit
new_synth (Cli *cli, const char *dir)
{
  double animals = 0, days = 0, seed = 1;
  DemoSynthMade made;
  DemoSynth what;
  CliExit code;
  GError *error = NULL;

  if (cli_option (cli, "animals") == NULL || cli_option (cli, "days") == NULL)
    return cli_usage_error (cli, "--animals and --days are both needed.");
  code = option_count (cli, "animals", 1, DEMO_SYNTH_ANIMALS, &animals);
  if (code == CLI_OK)
    code = option_count (cli, "days", 1, DEMO_SYNTH_DAYS, &days);
  if (code == CLI_OK)
    code = option_count (cli, "seed", 0, G_MAXUINT32, &seed);
  if (code != CLI_OK)
    return code;
  what = (DemoSynth){ (guint) animals, (guint) days, (guint64) seed };
  if (!demo_synth_make (dir, cli->today, &what, &made, NULL, &error))
    return cli_fail (error);
  return answer_synth (cli, dir, &made);
}

CliExit
cli_new (Cli *cli)
{
  const char *given = cli_word (cli, 0);
  g_autofree char *dir = g_canonicalize_filename (given, NULL);
  gboolean synth = cli_option (cli, "animals") != NULL || cli_option (cli, "days") != NULL ||
                   cli_option (cli, "seed") != NULL;
  GError *error = NULL;

  if (synth && cli_option (cli, "demo") != NULL)
    return cli_usage_error (cli, "Either --demo or --animals, --days and --seed.");
  if (synth)
    return new_synth (cli, dir);
  if (cli_option (cli, "demo") != NULL)
    return new_demo (cli, dir);
  cli->desk = desk_open (dir, cli->today, DESK_OPEN_CREATE | DESK_OPEN_LAZY, &error);
  if (cli->desk == NULL)
    return cli_fail (error);
  return answer_path (cli, dir);
}

/* ---- add ---- */

static const struct
{
  const char *name;
  CoreSubjectKind kind;
} subject_names[] = {
  { "animal", CORE_SUBJECT_ANIMAL },   { "place", CORE_SUBJECT_PLACE },
  { "lot", CORE_SUBJECT_LOT },         { "eggcase", CORE_SUBJECT_EGGCASE },
  { "culture", CORE_SUBJECT_CULTURE },
};

/* A place that was entered past what stands on it, or any of its kind, bears. */
static void
warn_of_temperature (Cli *cli, CoreId id)
{
  WordsView view = { WORDS_LOCAL, cli->today, desk_scheme (cli->desk) };
  g_autoptr (DeskSubject) place = desk_get (cli->desk, id);
  CorePast past = place != NULL ? desk_place_past (cli->desk, place) : (CorePast){ 0 };
  g_autofree char *text = words_past (&view, &past);

  if (text != NULL)
    g_printerr ("mantidary-cli: It is recorded. %s\n", text);
}

/* Of a lot that was here before it was counted. */
static void
say_counted_later (Cli *cli, const CoreState *state)
{
  WordsView view = cli_view (cli);
  g_autofree char *text = words_tally_as_of (&view, &state->tally);

  if (text != NULL)
    g_printerr ("mantidary-cli: %s\n", text);
}

static CliExit
answer_added (Cli *cli, DeskSubject *subject)
{
  const CoreState *state = desk_subject_state (subject);

  if (!cli->json)
    {
      g_string_append_printf (cli->out.text, "%s\n", desk_subject_label (subject));
      return cli_finish (cli);
    }
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "subject", desk_subject_label (subject));
  cli_out_str (&cli->out, "number", state->number[0] != '\0' ? state->number : NULL);
  cli_out_str (&cli->out, "code", state->code[0] != '\0' ? state->code : NULL);
  cli_out_id (&cli->out, "id", desk_subject_id (subject));
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

CliExit
cli_add (Cli *cli)
{
  CoreSubjectKind kind = CORE_SUBJECT_NONE;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSubject) subject = NULL;
  GError *error = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (subject_names); i++)
    if (strcmp (subject_names[i].name, cli_word (cli, 0)) == 0)
      kind = subject_names[i].kind;
  if (kind == CORE_SUBJECT_NONE)
    return cli_usage_error (cli, "There is no kind of subject '%s'.", cli_word (cli, 0));
  desk_add_async (cli->desk, kind, cli_words_from (cli, 1), CORE_DAY_NONE, NULL, desk_sync_cb,
                  &sync);
  result = desk_sync_wait (&sync);
  subject = desk_add_finish (cli->desk, result, &error);
  if (subject == NULL)
    return cli_fail (error);
  if (desk_subject_state (subject)->arrived &&
      desk_subject_state (subject)->acquired == CORE_DAY_NONE)
    g_printerr ("mantidary-cli: When %s came is not known: it counts as seen for the first time "
                "today. Known later: correct the entry with known=yes and its day.\n",
                desk_subject_label (subject));
  warn_of_temperature (cli, desk_subject_id (subject));
  say_counted_later (cli, desk_subject_state (subject));
  return answer_added (cli, subject);
}

/* ---- record, correct, void ---- */

static CliExit
answer_id (Cli *cli, const char *key, CoreId id)
{
  char text[37];

  if (!cli->json)
    {
      core_id_to_text (id, text);
      g_string_append_printf (cli->out.text, "%s\n", text);
      return cli_finish (cli);
    }
  cli_out_open (&cli->out, NULL);
  cli_out_id (&cli->out, key, id);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* The cup, its shelf and its position there, as they are now. */
static CliExit
answer_moved (Cli *cli, CoreId id)
{
  g_autoptr (DeskSubject) cup = desk_get (cli->desk, id);
  g_autoptr (DeskSubject) place = NULL;
  CoreId stands;
  double at;

  if (!desk_subject_place (cup, &stands, &at))
    return cli_refuse ("%s stands on no shelf.", desk_subject_label (cup));
  place = desk_get (cli->desk, stands);
  if (!cli->json)
    g_string_append_printf (cli->out.text, "%s: %s\n", desk_subject_label (cup),
                            desk_subject_label (place));
  else
    {
      cli_out_open (&cli->out, NULL);
      cli_out_str (&cli->out, "subject", desk_subject_label (cup));
      cli_out_str (&cli->out, "place", desk_subject_label (place));
      cli_out_num (&cli->out, "at", at, 6);
      cli_out_close (&cli->out);
    }
  return cli_finish (cli);
}

/* Is this a meal for a cup that is to get none on that day? */
static gboolean
meal_against_hold (Cli *cli, DeskSubject *subject, CoreDay day)
{
  const CoreStage *stage = core_state_stage_now (desk_subject_state (subject));
  const CoreHold *hold;

  day = day == CORE_DAY_NONE ? cli->today : day;
  if (strcmp (cli_word (cli, 1), "fed") != 0 || desk_subject_kind (subject) != CORE_SUBJECT_ANIMAL)
    return FALSE;
  for (guint i = 2; i < cli->words->len; i++)
    if (strcmp (cli_word (cli, i), "outcome=none_in_view") == 0)
      return FALSE;
  hold = &desk_subject_plan (subject)->hold;
  return stage != NULL && hold->food_until != CORE_DAY_NONE && day >= stage->found &&
         day <= hold->food_until;
}

static void
warn_of_hold (Cli *cli, DeskSubject *subject)
{
  WordsView view = { WORDS_LOCAL, cli->today, desk_scheme (cli->desk) };
  const CoreHold *hold = &desk_subject_plan (subject)->hold;
  g_autofree char *day = words_day (&view, hold->food_until, WORDS_DAY_FULL);

  g_printerr ("mantidary-cli: It is recorded, but %s is to get no food through %s: it hardens "
              "after its moult. Take the prey out.\n",
              desk_subject_label (subject), day);
}

/* What speaks against sending it today; NULL = nothing, or it is not leaving today. */
static char *
leaving_near_moult (Cli *cli, DeskSubject *subject, CoreDay day)
{
  WordsView view = { WORDS_LOCAL, cli->today, desk_scheme (cli->desk) };

  if (strcmp (cli_word (cli, 1), "left") != 0 || (day != CORE_DAY_NONE && day != cli->today))
    return NULL;
  return words_travel (&view, desk_subject_state (subject), desk_subject_forecast (subject));
}

/* FALSE: said so. */
static gboolean
may_be (Cli *cli, const DeskSubject *subject, CoreDay day, char **note)
{
  const char *const *pairs = cli_words_from (cli, 2);
  g_autofree char *doubt =
    desk_doubt_of_record (cli->desk, desk_subject_id (subject), cli_word (cli, 1), pairs, day,
                          DESK_DOUBT_IMPOSSIBLE, WORDS_LOCAL);

  *note = NULL;
  if (cli_option (cli, "sure") != NULL)
    return TRUE;
  if (doubt == NULL)
    *note = desk_doubt_of_record (cli->desk, desk_subject_id (subject), cli_word (cli, 1), pairs,
                                  day, DESK_DOUBT_SLIP, WORDS_LOCAL);
  else
    (void) cli_refuse ("%s Nothing was written; if it is so, say --sure.", doubt);
  return doubt == NULL;
}

/* What the journal now holds that contradicts this entry. */
static void
warn_of_conflict (Cli *cli, CoreId subject, CoreId entry)
{
  g_autoptr (DeskSubject) now = desk_get (cli->desk, subject);
  const CoreState *state = desk_subject_state (now);
  WordsView view = cli_view (cli);

  for (gsize i = 0; i < state->conflicts.n; i++)
    {
      const CoreConflict *conflict = &state->conflicts.v[i];
      gboolean new = core_id_equal (conflict->entry, entry) || core_id_equal (conflict->other, entry);
      g_autofree char *text = words_conflict (&view, conflict);

      if (new && conflict->kind == CORE_CONFLICT_TWO_READINGS)
        g_printerr ("mantidary-cli: It is recorded. %s\n", text);
    }
}

/* Of a moult so near another one --sure is said in the entry itself. */
static void
be_sure (Cli *cli)
{
  if (cli_option (cli, "sure") == NULL || strcmp (cli_word (cli, 1), "moulted") != 0)
    return;
  for (guint i = 2; i < cli->words->len; i++)
    if (g_str_has_prefix (cli_word (cli, i), "sure="))
      return;
  g_ptr_array_add (cli->words, (gpointer) "sure=yes");
  g_ptr_array_add (cli->words, NULL);
  g_ptr_array_set_size (cli->words, (int) cli->words->len - 1);
}

CliExit
cli_record (Cli *cli)
{
  CoreDay day, earliest = CORE_DAY_NONE;
  DeskWhen when;
  CliExit code = CLI_OK;
  int minute;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSubject) subject = NULL;
  g_autofree char *travel = NULL;
  g_autofree char *note = NULL;
  gboolean unwanted;
  CoreId id;
  GError *error = NULL;

  if (!cli_option_when (cli, "day", &when) || !cli_option_past (cli, "earliest", &earliest) ||
      !cli_option_clock (cli, "time", &minute))
    return CLI_USAGE;
  desk_when_span (&when, core_kind_from_name (cli_word (cli, 1)), &day, &earliest);
  subject = cli_subject (cli, 0, &code);
  if (subject == NULL)
    return code;
  if (!may_be (cli, subject, day, &note))
    return CLI_CANNOT;
  be_sure (cli);
  unwanted = meal_against_hold (cli, subject, day);
  travel = leaving_near_moult (cli, subject, day);
  desk_record_async (cli->desk, desk_subject_id (subject), cli_word (cli, 1),
                     cli_words_from (cli, 2), day, earliest, minute, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_record_finish (cli->desk, result, &id, &error))
    return cli_fail (error);
  if (unwanted)
    warn_of_hold (cli, subject);
  if (travel != NULL)
    g_printerr ("mantidary-cli: It is recorded. %s\n", travel);
  if (strcmp (cli_word (cli, 1), "set") == 0)
    warn_of_temperature (cli, desk_subject_id (subject));
  if (note != NULL)
    g_printerr ("mantidary-cli: It is recorded. %s\n", note);
  warn_of_conflict (cli, desk_subject_id (subject), id);
  return answer_id (cli, "id", id);
}

CliExit
cli_move (Cli *cli)
{
  CliExit code = CLI_OK;
  CoreId before = { 0 };
  GError *error = NULL;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSubject) cup = cli_subject (cli, 0, &code);
  g_autoptr (DeskSubject) place = cup != NULL ? cli_subject (cli, 1, &code) : NULL;

  if (place == NULL)
    return code;
  if (desk_subject_kind (place) != CORE_SUBJECT_PLACE)
    return cli_refuse ("'%s' is no place.", cli_word (cli, 1));
  if (cli_option (cli, "before") != NULL)
    {
      g_autoptr (DeskSubject) next = desk_find (cli->desk, cli_option (cli, "before"), &error);

      if (next == NULL)
        return cli_fail (error);
      before = desk_subject_id (next);
    }
  desk_place_before_async (cli->desk, desk_subject_id (cup), desk_subject_id (place), before,
                           desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_place_before_finish (cli->desk, result, &error))
    return cli_fail (error);
  return answer_moved (cli, desk_subject_id (cup));
}

CliExit
cli_correct (Cli *cli)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  CoreId entry, id, subject = { { 0 } };
  const CoreEntry *was;
  GError *error = NULL;

  if (!cli_entry_id (cli_word (cli, 0), &entry))
    return CLI_CANNOT;
  was = desk_entry (cli->desk, entry);
  if (was != NULL && was->kind == CORE_KIND_SET)
    subject = was->subject;
  desk_correct_async (cli->desk, entry, cli_words_from (cli, 1), desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_correct_finish (cli->desk, result, &id, &error))
    return cli_fail (error);
  if (!core_id_is_none (subject))
    warn_of_temperature (cli, subject);
  return answer_id (cli, "id", id);
}

CliExit
cli_void (Cli *cli)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  CoreId entry;
  GError *error = NULL;

  if (!cli_entry_id (cli_word (cli, 0), &entry))
    return CLI_CANNOT;
  desk_void_async (cli->desk, entry, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_void_finish (cli->desk, result, &error))
    return cli_fail (error);
  return answer_id (cli, "voided", entry);
}

/* ---- undo, redo ---- */

static CliExit
answer_change (Cli *cli, const DeskChange *change)
{
  WordsView view = cli_view (cli);
  g_autofree char *text =
    change->again != NULL
      ? words_correction_undone (&view, change->label, change->place, change->again)
      : words_change (&view, change->restores, change->label, change->place, change->said, change->entries->len);

  if (!cli->json)
    {
      g_string_append_printf (cli->out.text, "%s\n", text);
      return cli_finish (cli);
    }
  cli_out_open (&cli->out, NULL);
  cli_out_array (&cli->out, change->redo ? "redone" : "undone");
  for (guint i = 0; i < change->entries->len; i++)
    cli_out_id (&cli->out, NULL, ((CoreEntry *) change->entries->pdata[i])->id);
  cli_out_array_end (&cli->out);
  cli_out_str (&cli->out, "text", text);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

CliExit
cli_undo (Cli *cli)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskChange) change = NULL;
  GError *error = NULL;

  desk_undo_async (cli->desk, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  change = desk_undo_finish (cli->desk, result, &error);
  return change != NULL ? answer_change (cli, change) : cli_fail (error);
}

CliExit
cli_redo (Cli *cli)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskChange) change = NULL;
  GError *error = NULL;

  desk_redo_async (cli->desk, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  change = desk_undo_finish (cli->desk, result, &error);
  return change != NULL ? answer_change (cli, change) : cli_fail (error);
}
