/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-util.c — words, subjects, and how a failure ends the program. */
#include "cli/cli.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

const char *
cli_word (Cli *cli, guint i)
{
  return i < cli->words->len ? cli->words->pdata[i] : NULL;
}

/* `words` ends with a NULL that is not counted. */
const char *const *
cli_words_from (Cli *cli, guint i)
{
  return (const char *const *) cli->words->pdata + MIN (i, cli->words->len);
}

char *
cli_default_journal (void)
{
  return g_build_filename (g_get_user_data_dir (), "mantidary", "journal", NULL);
}

WordsLang
cli_lang (const Cli *cli)
{
  return cli->json ? WORDS_ENGLISH : WORDS_LOCAL;
}

WordsView
cli_view (Cli *cli)
{
  return (WordsView){ cli_lang (cli), cli->today, cli->desk != NULL ? desk_scheme (cli->desk) : 1 };
}

/* What was typed may stand in a message: no byte of it that is no text goes to the terminal. */
static void
say (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);

  for (char *p = valid; *p != '\0'; p++)
    if ((g_ascii_iscntrl (*p) && *p != '\n') || *p == 0x7f)
      *p = '?';
  g_printerr ("mantidary-cli: %s\n", valid);
}

CliExit
cli_fail (GError *error)
{
  static const CliExit codes[] = { [DESK_FAULT_REQUEST] = CLI_CANNOT,
                                   [DESK_FAULT_DAMAGED] = CLI_DAMAGED,
                                   [DESK_FAULT_BUSY] = CLI_BUSY };
  CliExit code = codes[desk_error_fault (error)];

  say (error->message);
  g_error_free (error);
  return code;
}

CliExit
cli_refuse (const char *format, ...)
{
  g_autofree char *text = NULL;
  va_list args;

  va_start (args, format);
  text = g_strdup_vprintf (format, args);
  va_end (args);
  say (text);
  return CLI_CANNOT;
}

CliExit
cli_usage_error (Cli *cli, const char *format, ...)
{
  g_autofree char *text = NULL;
  va_list args;

  va_start (args, format);
  text = g_strdup_vprintf (format, args);
  va_end (args);
  say (text);
  if (cli->verb != NULL)
    cli_print_usage (cli->verb, stderr);
  else
    g_printerr ("Try mantidary-cli --help.\n");
  return CLI_USAGE;
}

DeskSubject *
cli_subject (Cli *cli, guint i, CliExit *exit)
{
  GError *error = NULL;
  DeskSubject *subject = desk_find (cli->desk, cli_word (cli, i), &error);

  if (subject == NULL)
    *exit = cli_fail (error);
  return subject;
}

gboolean
cli_entry_id (const char *text, CoreId *out)
{
  if (core_id_from_text (text, out))
    return TRUE;
  cli_refuse ("'%s' is no entry. `history SUBJECT` lists entries with their ids.", text);
  return FALSE;
}

CliExit
cli_finish (Cli *cli)
{
  GError *error = NULL;

  if (cli->desk != NULL && !desk_is_readable (cli->desk, &error))
    return cli_fail (error);
  if (cli_out_flush (&cli->out))
    return CLI_OK;
  return cli_refuse ("The answer could not be written to standard output.");
}
