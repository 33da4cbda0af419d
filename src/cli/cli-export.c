/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-export.c — what leaves the journal on paper: round sheets and number stickers. */
#include "cli/cli.h"
#include "desk/desk-sheet.h"

typedef DeskSheet *(*MakeSheet) (Desk *desk, CoreId place, GError **error);

/* FALSE: said so. */
static gboolean
place_of (Cli *cli, CoreId *place, CliExit *code)
{
  const char *label = cli_option (cli, "place");
  GError *error = NULL;
  g_autoptr (DeskSubject) subject = NULL;

  if (label == NULL)
    return TRUE;
  subject = desk_find (cli->desk, label, &error);
  if (subject == NULL)
    *code = cli_fail (error);
  else if (desk_subject_kind (subject) != CORE_SUBJECT_PLACE)
    *code = cli_refuse ("%s is no place. Name a shelf by its name or code.", label);
  else
    *place = desk_subject_id (subject);
  return *code == CLI_OK;
}

static CliExit
export (Cli *cli, MakeSheet make)
{
  const char *paper = cli_option (cli, "paper");
  CoreId place = { { 0 } };
  CliExit code = CLI_OK;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSheet) sheet = NULL;
  GError *error = NULL;

  if (!place_of (cli, &place, &code))
    return code;
  sheet = make (cli->desk, place, &error);
  if (sheet == NULL)
    return cli_fail (error);
  if (paper != NULL && !desk_sheet_set_paper (sheet, paper))
    return cli_usage_error (cli, "There is no paper “%s” here: a4 or letter.", paper);
  desk_sheet_write_async (sheet, cli_word (cli, 0), cli_option (cli, "replace") != NULL, NULL, desk_sync_cb,
                          &sync);
  result = desk_sync_wait (&sync);
  if (!desk_sheet_write_finish (result, &error))
    return cli_fail (error);
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "file", cli_word (cli, 0));
  cli_out_int (&cli->out, "pages", desk_sheet_n_pages (sheet));
  cli_out_int (&cli->out, "lines", desk_sheet_n_lines (sheet));
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

CliExit
cli_export_sheets (Cli *cli)
{
  return export (cli, desk_round_sheet);
}

CliExit
cli_export_stickers (Cli *cli)
{
  return export (cli, desk_stickers);
}
