/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-round.c — a round in one line, as typed on the screen: English and the language of
 * the session. */
#include "cli/cli.h"

#include "core/core-date.h"

static const char *
number_of (const DeskRoundPreview *preview, gsize cup)
{
  return g_array_index (preview->cups, CoreRoundCup, cup).number;
}

static void
put_writes (Cli *cli, const DeskRoundPreview *preview)
{
  WordsView view = { cli_lang (cli), desk_today (cli->desk), desk_scheme (cli->desk) };

  cli_out_array (&cli->out, "writes");
  for (gsize i = 0; i < preview->plan.n_writes; i++)
    {
      const CoreRoundWrite *write = &preview->plan.writes[i];
      const char *number = number_of (preview, write->cup);
      g_autofree char *text = words_round_write (
        &view, number, number_of (preview, write->other), preview->day, write);

      cli_out_open (&cli->out, NULL);
      cli_out_str (&cli->out, "subject", number);
      cli_out_bool (&cli->out, "exception", write->exception);
      cli_out_day (&cli->out, "day", preview->day - write->days_back);
      cli_out_str (&cli->out, "text", text);
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
}

static const char *
action_name (const DeskRoundPreview *preview, gsize action)
{
  static const char *const names[] = {
    [CORE_WORD_FED] = "fed",         [CORE_WORD_MISTED] = "misted", [CORE_WORD_WATERED] = "watered",
    [CORE_WORD_CLEANED] = "cleaned", [CORE_WORD_LOOKED] = "looked", [CORE_WORD_GONE] = "gone",
  };
  gsize word = action < preview->line.n_actions ? (gsize) preview->line.actions[action].action : 0;

  return word < G_N_ELEMENTS (names) ? names[word] : NULL;
}

static const char *const why_names[CORE_N_LEFT_OUT] = {
  [CORE_LEFT_OUT_HELD] = "held",
  [CORE_LEFT_OUT_TOO_SMALL] = "too_small",
  [CORE_LEFT_OUT_NOT_ITS_PREY] = "not_its_prey",
  [CORE_LEFT_OUT_NOTHING_IN] = "nothing_in",
  [CORE_LEFT_OUT_STAGE_UNKNOWN] = "stage_unknown",
  [CORE_LEFT_OUT_LENGTH_UNKNOWN] = "stage_unknown",
  [CORE_LEFT_OUT_NOT_THERE] = "not_there",
  [CORE_LEFT_OUT_ILL] = "ill",
  [CORE_LEFT_OUT_LOT] = "lot",
};

static void
put_left_out (Cli *cli, const DeskRoundPreview *preview)
{
  cli_out_array (&cli->out, "left_out");
  for (gsize i = 0; i < preview->plan.n_left_out; i++)
    {
      const CoreRoundLeftOut *row = &preview->plan.left_out[i];
      const char *number = number_of (preview, row->cup);
      g_autofree char *part =
        words_round_left_out_part (cli_lang (cli), row->why, row->prey, number);
      g_autofree char *text = words_round_left_out (cli_lang (cli), part);

      cli_out_open (&cli->out, NULL);
      cli_out_str (&cli->out, "subject", number);
      cli_out_str (&cli->out, "action", action_name (preview, row->action));
      cli_out_str (&cli->out, "why", why_names[row->why]);
      cli_out_str (&cli->out, "text", text);
      cli_out_bool (&cli->out, "due", row->due);
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
}

/* Every problem of the line, not only the first. */
static CliExit
say_problems (const DeskRoundPreview *preview, const char *line)
{
  for (gsize i = 0; i < preview->line.n_problems; i++)
    {
      g_autofree char *text = words_round_problem (WORDS_LOCAL, &preview->line.problems[i], line);

      g_printerr ("mantidary-cli: %s\n", text);
    }
  return CLI_CANNOT;
}

/* What is fed can hurt the keeper or the animal: said beside the answer, not in it. */
static void
say_cautions (Cli *cli, const DeskRoundPreview *preview)
{
  g_autofree char *text =
    words_caution_lines (WORDS_LOCAL, desk_cautions_of_round (cli->desk, preview));
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (gsize i = 0; lines[i] != NULL; i++)
    g_printerr ("mantidary-cli: %s\n", lines[i]);
}

CliExit
cli_round (Cli *cli)
{
  gsize n_terms = 0, n_written = 0;
  const CoreRoundTerm *terms = words_round_terms (WORDS_LOCAL, &n_terms);
  const char *line = cli_word (cli, 1);
  DeskWhen when;
  CliExit code = CLI_OK;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSubject) place = NULL;
  g_autoptr (DeskRoundPreview) preview = NULL;
  GError *error = NULL;

  if (!cli_option_when (cli, "day", &when))
    return CLI_USAGE;
  place = cli_subject (cli, 0, &code);
  if (place == NULL)
    return code;
  if (desk_subject_kind (place) != CORE_SUBJECT_PLACE)
    return cli_refuse ("'%s' is no place. A round goes over the animals of a shelf.",
                       cli_word (cli, 0));
  preview = desk_round_preview (cli->desk, desk_subject_id (place), line, terms, n_terms, when.latest);
  if (preview->line.n_problems > 0)
    return say_problems (preview, line);
  desk_round_write_async (cli->desk, desk_subject_id (place), line, terms, n_terms, &when,
                          cli_option (cli, "seen-by"), NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_round_write_finish (cli->desk, result, &n_written, &error))
    return cli_fail (error);
  say_cautions (cli, preview);
  cli_out_open (&cli->out, NULL);
  cli_out_int (&cli->out, "written", (gint64) n_written);
  put_writes (cli, preview);
  put_left_out (cli, preview);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}
