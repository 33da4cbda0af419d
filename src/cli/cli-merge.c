/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-merge.c — merge: another copy of the journal comes into this one. */
#include "cli/cli.h"

#include "desk/desk-merge.h"

static DeskMerge *
merge (Cli *cli, gboolean look, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  if (look)
    desk_merge_look_async (cli->desk, cli_word (cli, 0), desk_sync_cb, &sync);
  else
    desk_merge_async (cli->desk, cli_word (cli, 0),
                      cli_option (cli, "another") != NULL ? DESK_MERGE_ANY : DESK_MERGE_COPY,
                      desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return look ? desk_merge_look_finish (cli->desk, result, error)
              : desk_merge_finish (cli->desk, result, error);
}

static void
put_text (Cli *cli, const DeskClash *clash)
{
  WordsView view = cli_view (cli);
  WordsClash words = desk_clash_words (clash);
  g_autofree char *text = words_merge_clash (&view, &words);

  cli_out_str (&cli->out, "text", text);
}

/* Two of one number or code. */
static void
put_name (Cli *cli, const DeskClash *clash)
{
  const CoreState *state = desk_subject_state (clash->subject);

  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "number",
               clash->conflict.kind == CORE_CONFLICT_CODE_TAKEN ? state->code : state->number);
  cli_out_str (&cli->out, "kept_by", desk_subject_label (clash->other));
  cli_out_id (&cli->out, "kept_by_id", desk_subject_id (clash->other));
  cli_out_str (&cli->out, "subject", desk_subject_label (clash->subject));
  cli_out_id (&cli->out, "id", desk_subject_id (clash->subject));
  put_text (cli, clash);
  cli_out_close (&cli->out);
}

static void
put_conflict (Cli *cli, const DeskClash *clash)
{
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "subject", desk_subject_label (clash->subject));
  cli_out_id (&cli->out, "id", desk_subject_id (clash->subject));
  cli_out_str (&cli->out, "kind", cli_conflict_kind (clash->conflict.kind));
  cli_out_id (&cli->out, "entry", clash->conflict.entry);
  cli_out_id (&cli->out, "other", clash->conflict.other);
  put_text (cli, clash);
  cli_out_close (&cli->out);
}

static void
put_clashes (Cli *cli, const char *key, const DeskMerge *merged, gboolean names)
{
  cli_out_array (&cli->out, key);
  for (guint i = 0; i < merged->clashes->len; i++)
    {
      const DeskClash *clash = merged->clashes->pdata[i];

      if ((clash->other != NULL) == names)
        (names ? put_name : put_conflict) (cli, clash);
    }
  cli_out_array_end (&cli->out);
}

static CliExit
refuse (GError *error)
{
  gboolean stranger = g_error_matches (error, DESK_ERROR, DESK_ERROR_STRANGER);
  CliExit code = cli_fail (error);

  if (stranger)
    g_printerr ("mantidary-cli: --look says what would come; --another takes it in.\n");
  return code;
}

CliExit
cli_merge (Cli *cli)
{
  gboolean look = cli_option (cli, "look") != NULL;
  GError *error = NULL;
  g_autoptr (DeskMerge) merged = merge (cli, look, &error);
  g_autofree char *text = NULL;
  g_autofree char *beside = NULL;
  guint subjects = 0;

  if (merged == NULL)
    return refuse (error);
  text = look ? words_merge_coming (cli_lang (cli), &merged->came)
              : words_merge_came (cli_lang (cli), &merged->came);
  beside = words_merge_beside (cli_lang (cli), &merged->came);
  if (beside[0] != '\0')
    g_printerr ("mantidary-cli: %s\n", beside);
  for (int kind = CORE_SUBJECT_NONE + 1; kind < CORE_N_SUBJECTS; kind++)
    subjects += merged->came.subjects[kind];
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "journal", merged->dir);
  cli_out_bool (&cli->out, "written", !look);
  cli_out_bool (&cli->out, "copy", !merged->stranger);
  cli_out_int (&cli->out, "entries", merged->came.entries);
  cli_out_int (&cli->out, "already", merged->came.already);
  cli_out_int (&cli->out, "subjects", subjects);
  cli_out_int (&cli->out, "photos", merged->came.photos);
  cli_out_int (&cli->out, "drafts", merged->came.drafts);
  cli_put_left_out (cli, merged->left_out);
  put_clashes (cli, "numbers", merged, TRUE);
  put_clashes (cli, "conflicts", merged, FALSE);
  cli_out_str (&cli->out, "text", text);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}
