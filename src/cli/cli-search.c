/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-search.c — search: finding a fact again. */
#include "cli/cli.h"
#include "core/core-date.h"
#include "desk/desk-search.h"
#include "words/words-search.h"

#define LIMIT 200

static const char *const why_names[] = {
  [DESK_HIT_LABEL] = "label", [DESK_HIT_NAME] = "name", [DESK_HIT_SPECIES] = "species",
  [DESK_HIT_PLACE] = "place", [DESK_HIT_STAGE] = "stage", [DESK_HIT_NOTE] = "note",
  [DESK_HIT_ENTRY] = "entry", [DESK_HIT_PREY] = "prey",
};

static void
put_hit (Cli *cli, const DeskHit *hit)
{
  const CoreEntry *entry = core_id_is_none (hit->entry) ? NULL : desk_entry (cli->desk, hit->entry);
  g_autofree char *text = entry != NULL ? cli_entry_text (cli, hit->subject, entry) : NULL;

  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "why", why_names[hit->why]);
  cli_out_str (&cli->out, "subject", desk_subject_label (hit->subject));
  cli_out_id (&cli->out, "id", desk_subject_id (hit->subject));
  cli_out_str (&cli->out, "kind", cli_subject_kind (hit->subject));
  cli_out_bool (&cli->out, "alive", desk_subject_living (hit->subject));
  if (entry != NULL)
    {
      cli_out_id (&cli->out, "entry", entry->id);
      cli_out_day (&cli->out, "day", entry->day);
      cli_out_str (&cli->out, "text", text);
    }
  cli_out_close (&cli->out);
}

CliExit
cli_search (Cli *cli)
{
  g_autofree char *text = g_strjoinv (" ", (char **) cli_words_from (cli, 0));
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GPtrArray) hits = NULL;
  GError *error = NULL;

  desk_search_async (cli->desk, text, LIMIT, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  hits = desk_search_finish (cli->desk, result, &error);
  if (hits == NULL)
    return cli_fail (error);
  if (hits->len == 0)
    g_printerr ("mantidary-cli: %s\n", words_search_nothing (WORDS_LOCAL));
  cli_out_open (&cli->out, NULL);
  cli_out_array (&cli->out, "hits");
  for (guint i = 0; i < hits->len; i++)
    put_hit (cli, hits->pdata[i]);
  cli_out_array_end (&cli->out);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}
