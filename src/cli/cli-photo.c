/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-photo.c — a picture into the journal. */
#include "cli/cli.h"

/* ---- photo add ---- */

static CliExit
answer_photo (Cli *cli, const DeskPhoto *photo)
{
  char text[37];

  WordsView view = { WORDS_LOCAL, cli->today, desk_scheme (cli->desk) };
  g_autofree char *wrong = words_photo_clock_wrong (&view, photo->wrong, photo->taken);

  if (photo->undated)
    g_printerr ("mantidary-cli: %s\n", wrong != NULL ? wrong : words_photo_undated (WORDS_LOCAL));
  if (!cli->json)
    {
      core_id_to_text (photo->photo, text);
      g_string_append_printf (cli->out.text, "%s\n", text);
      return cli_finish (cli);
    }
  cli_out_open (&cli->out, NULL);
  cli_out_id (&cli->out, "photo", photo->photo);
  cli_out_str (&cli->out, "hash", photo->hash);
  cli_out_day (&cli->out, "taken", photo->taken);
  cli_out_day (&cli->out, "day", photo->day);
  cli_put_wrong_day (cli, photo);
  cli_out_array (&cli->out, "size");
  cli_out_int (&cli->out, NULL, photo->width);
  cli_out_int (&cli->out, NULL, photo->height);
  cli_out_array_end (&cli->out);
  cli_out_bool (&cli->out, "duplicate", photo->duplicate);
  if (!core_id_is_none (photo->of))
    cli_out_id (&cli->out, "of", photo->of);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

void
cli_put_wrong_day (Cli *cli, const DeskPhoto *photo)
{
  static const char *const names[] = { NULL, "ahead", "long_ago", "before_hatch", "before_laid" };

  cli_out_bool (&cli->out, "undated", photo->undated);
  cli_out_str (&cli->out, "wrong_clock", names[photo->wrong]);
}

CliExit
cli_photo_add (Cli *cli)
{
  CoreDay day = CORE_DAY_NONE;
  CliExit code = CLI_OK;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSubject) subject = NULL;
  g_autoptr (GFile) file = g_file_new_for_commandline_arg (cli_word (cli, 1));
  DeskPhoto photo;
  GError *error = NULL;

  if (!cli_option_past (cli, "day", &day))
    return CLI_USAGE;
  subject = cli_subject (cli, 0, &code);
  if (subject == NULL)
    return code;
  desk_photo_add_async (cli->desk, desk_subject_id (subject), file, day, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_photo_add_finish (cli->desk, result, &photo, &error))
    return cli_fail (error);
  return answer_photo (cli, &photo);
}
