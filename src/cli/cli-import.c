/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-import.c — a table of animals from a file or a pipe, by the model of the window: all of it or nothing. */
#include "cli/cli.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "desk/move-in-model.h"

#define MOST_BYTES (1024 * 1024 + 1) /* more is not read: the model refuses it */

/* What was copied in a spreadsheet and comes through a pipe. */
static char *
read_standard_input (gsize *length, GError **error)
{
  g_autofree char *text = g_malloc (MOST_BYTES);

  *length = fread (text, 1, MOST_BYTES, stdin);
  if (ferror (stdin))
    {
      g_set_error_literal (error, G_IO_ERROR, g_io_error_from_errno (errno), g_strerror (errno));
      return NULL;
    }
  return g_steal_pointer (&text);
}

static char *
read_file (const char *path, gsize *length, GError **error)
{
  g_autoptr (GFile) file = g_file_new_for_commandline_arg (path);
  g_autoptr (GFileInputStream) stream = g_file_read (file, NULL, error);
  g_autofree char *text = g_malloc (MOST_BYTES);

  if (stream == NULL || !g_input_stream_read_all (G_INPUT_STREAM (stream), text, MOST_BYTES, length,
                                                  NULL, error))
    return NULL;
  return g_steal_pointer (&text);
}

/* As the window calls them: "Place, Order, Number, …". */
static char *
columns_known (gboolean with_beside)
{
  static const MoveInColumn beside[] = { MOVE_IN_NAME, MOVE_IN_LOCALITY, MOVE_IN_NOTES };
  const char *names[MOVE_IN_N_COLUMNS + G_N_ELEMENTS (beside)];
  gsize n = 0;

  while (n < MOVE_IN_N_COLUMNS)
    {
      names[n] = words_move_in_column (WORDS_LOCAL, (MoveInColumn) n);
      n++;
    }
  for (gsize i = 0; with_beside && i < G_N_ELEMENTS (beside); i++)
    names[n++] = words_move_in_column (WORDS_LOCAL, beside[i]);
  return words_list (WORDS_LOCAL, names, n);
}

/* Every cell that was not understood, a line each, as "row 3, Species: …". */
static CliExit
tell_problems (MoveInModel *model, const MoveInPasted *pasted)
{
  g_autofree char *known = columns_known (FALSE);

  if (!pasted->headings)
    g_printerr ("mantidary-cli: the first line was read as an animal, since fewer than two of its cells are "
                "headings. The columns, in this order where there are no headings: %s.\n",
                known);
  for (guint row = 0; row < move_in_model_n_rows (model); row++)
    for (int column = 0; column < MOVE_IN_N_COLUMNS; column++)
      {
        g_autofree char *says = move_in_model_says (model, row, (MoveInColumn) column);

        if (says != NULL)
          g_printerr ("mantidary-cli: row %u, %s: %s\n", row + 1,
                      words_move_in_column (WORDS_LOCAL, (MoveInColumn) column), says);
      }
  return CLI_CANNOT;
}

static void
fill_place (MoveInModel *model, const char *place)
{
  for (guint row = 0; place != NULL && row < move_in_model_n_rows (model); row++)
    if (move_in_model_text (model, row, MOVE_IN_PLACE)[0] == '\0')
      move_in_model_set (model, row, MOVE_IN_PLACE, place);
}

static void
put_names (Cli *cli, const char *key, char **names)
{
  cli_out_array (&cli->out, key);
  for (gsize i = 0; names != NULL && names[i] != NULL; i++)
    cli_out_str (&cli->out, NULL, names[i]);
  cli_out_array_end (&cli->out);
}

/* A heading that is misspelt must not go unseen, whatever the answer looks like. */
static void
say_left_out (const MoveInPasted *pasted)
{
  g_autofree char *names = pasted->left_out != NULL ? g_strjoinv ("”, “", pasted->left_out) : NULL;
  g_autofree char *known = columns_known (TRUE);

  if (names != NULL)
    g_printerr ("mantidary-cli: not read, since no such column is known: “%s”. Known are: %s, and the scheme of a "
                "stage.\n",
                names, known);
}

static CliExit
answer_imported (Cli *cli, guint animals, const MoveInSummary *summary, const MoveInPasted *pasted)
{
  say_left_out (pasted);
  if (!cli->json)
    {
      g_string_append_printf (cli->out.text, "%u\n", animals);
      return cli_finish (cli);
    }
  cli_out_open (&cli->out, NULL);
  cli_out_int (&cli->out, "animals", (int) animals);
  put_names (cli, "new_places", summary->new_places);
  put_names (cli, "left_out", pasted->left_out);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

static CliExit
save_table (Cli *cli, MoveInModel *model, const MoveInPasted *pasted)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  GError *error = NULL;
  MoveInSummary summary;
  guint animals = 0;
  CliExit exit;

  move_in_model_summary (model, &summary);
  if (summary.problems > 0)
    exit = tell_problems (model, pasted);
  else
    {
      move_in_model_save_async (model, NULL, desk_sync_cb, &sync);
      result = desk_sync_wait (&sync);
      exit = move_in_model_save_finish (model, result, &animals, &error)
               ? answer_imported (cli, animals, &summary, pasted)
               : cli_fail (error);
    }
  move_in_summary_clear (&summary);
  return exit;
}

/* One word alone may be a place in the window; in a file it is the heading of what is missing. */
static gboolean
is_heading (const char *text, gsize length)
{
  g_autofree char *word = length < 100 && g_utf8_validate (text, (gssize) length, NULL)
                            ? g_utf8_casefold (text, (gssize) length)
                            : g_strdup ("");

  return words_move_in_heading (g_strstrip (word)) != MOVE_IN_N_COLUMNS;
}

CliExit
cli_import_csv (Cli *cli)
{
  g_autoptr (MoveInModel) model = NULL;
  GError *error = NULL;
  gsize length = 0;
  const char *path = cli_word (cli, 0);
  g_autofree char *text = strcmp (path, "-") == 0 ? read_standard_input (&length, &error)
                                                  : read_file (path, &length, &error);
  g_autofree char *problem = NULL;
  const char *scheme = cli_option (cli, "scheme");
  MoveInPasted pasted;
  CliExit exit;

  if (text == NULL)
    return cli_fail (error);
  if (scheme != NULL && strcmp (scheme, "1") != 0 && strcmp (scheme, "2") != 0)
    return cli_usage_error (cli, "--scheme is the L-number of the hatchling: 1 or 2, not '%s'.", scheme);
  model = move_in_model_new (cli->desk);
  move_in_model_keep_no_draft (model);
  if (scheme != NULL)
    move_in_model_set_scheme (model, scheme[0] - '0');
  if (is_heading (text, length))
    problem = words_move_in_problem (WORDS_LOCAL, MOVE_IN_PASTE_HEADINGS, NULL, NULL);
  if (problem != NULL || !move_in_model_paste (model, 0, MOVE_IN_PLACE, text, length, &pasted, &problem))
    return cli_refuse ("%s", problem);
  fill_place (model, cli_option (cli, "place"));
  exit = save_table (cli, model, &pasted);
  move_in_pasted_clear (&pasted);
  return exit;
}
