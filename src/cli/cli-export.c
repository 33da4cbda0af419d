/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-export.c — what leaves the journal on paper: round sheets, number stickers, what a
 * stand-in needs. */
#include "cli/cli.h"
#include "desk/desk-proof.h"
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

/* Takes the sheet; NULL: the error is said. */
static CliExit
write_sheet (Cli *cli, DeskSheet *made, GError *failed)
{
  const char *paper = cli_option (cli, "paper");
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSheet) sheet = made;
  GError *error = failed;

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

static CliExit
export (Cli *cli, MakeSheet make)
{
  CoreId place = { { 0 } };
  CliExit code = CLI_OK;
  DeskSheet *sheet;
  GError *error = NULL;

  if (!place_of (cli, &place, &code))
    return code;
  sheet = make (cli->desk, place, &error);
  return write_sheet (cli, sheet, error);
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

CliExit
cli_export_standin (Cli *cli)
{
  CoreId place = { { 0 } };
  CliExit code = CLI_OK;
  CoreDay from = CORE_DAY_NONE, to = CORE_DAY_NONE;
  DeskSheet *sheet;
  GError *error = NULL;

  if (!cli_option_day (cli, "from", &from) || !cli_option_day (cli, "to", &to))
    return CLI_USAGE;
  if (!place_of (cli, &place, &code))
    return code;
  sheet = desk_standin_sheet (cli->desk, place, from, to, cli_option (cli, "call"), &error);
  return write_sheet (cli, sheet, error);
}

CliExit
cli_export_emergency (Cli *cli)
{
  return write_sheet (cli, desk_emergency_card (), NULL);
}

static void
put_proof (Cli *cli, const DeskProofInfo *info)
{
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "file", cli_word (cli, 1));
  cli_out_array (&cli->out, "size");
  cli_out_int (&cli->out, NULL, info->width);
  cli_out_int (&cli->out, NULL, info->height);
  cli_out_array_end (&cli->out);
  cli_out_num (&cli->out, "px_per_mm", info->px_per_mm, 4);
  cli_out_num (&cli->out, "px_per_mm_sd", info->sd, 4);
  cli_out_int (&cli->out, "plates", info->plates);
  cli_out_close (&cli->out);
}

/* FALSE: said so. */
static gboolean
ruler_of (Cli *cli, DeskProof *proof, CliExit *code)
{
  const char *text = cli_option (cli, "ruler");
  double v[4], mm = 0;

  if (text == NULL && cli_option (cli, "mm") == NULL)
    return TRUE;
  *code = CLI_USAGE;
  if (text == NULL || cli_option (cli, "mm") == NULL || cli_option_points (cli, "ruler", v, 2) != 2)
    cli_usage_error (cli, "A ruler needs two marks, as --ruler x0,y0,x1,y1, and its length, as --mm L.");
  else if (cli_option_number (cli, "mm", &mm))
    {
      if (desk_proof_set_ruler (proof, (CorePoint){ v[0], v[1] }, (CorePoint){ v[2], v[3] }, mm))
        *code = CLI_OK;
      else
        *code = cli_refuse ("The two marks must lie at least 16 pixels apart, and the length be over 0 and at most "
                            "1000 mm.");
    }
  return *code == CLI_OK;
}

CliExit
cli_export_proofsheet (Cli *cli)
{
  g_autoptr (DeskProof) proof = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  DeskSync sync = { NULL };
  DeskProofInfo info;
  CoreId photo;
  CliExit code = CLI_OK;
  GError *error = NULL;

  if (!cli_entry_id (cli_word (cli, 0), &photo))
    return CLI_CANNOT;
  proof = desk_proof_new (cli->desk, photo, &error);
  if (proof == NULL)
    return cli_fail (error);
  if (!ruler_of (cli, proof, &code))
    return code;
  desk_proof_write_async (proof, cli_word (cli, 1), cli_option (cli, "replace") != NULL, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_proof_write_finish (result, &info, &error))
    return cli_fail (error);
  put_proof (cli, &info);
  return cli_finish (cli);
}
