/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-main.c — reading the line, opening the journal, running one verb.
 *
 * The clock enters here, once: --today fixes the keeper's day. */
#include "cli/cli.h"

#include <locale.h>
#include <string.h>

#include "core/core-date.h"

/* ---- reading the line ---- */

/* Global options are known everywhere, those of a verb after it. */
static int
find_option (Cli *cli, const char *name, gsize length)
{
  int type = cli_option_type ("journal= today= json help version", name, length);

  return type != 0 || cli->verb == NULL ? type : cli_option_type (cli->verb->options, name, length);
}

static CliExit
read_option (Cli *cli, char **argv, int argc, int *i)
{
  const char *name = argv[*i] + 2;
  const char *equals = strchr (name, '=');
  gsize length = equals != NULL ? (gsize) (equals - name) : strlen (name);
  g_autofree char *key = g_strndup (name, length);
  const char *value = equals != NULL ? equals + 1 : NULL;

  switch (find_option (cli, name, length))
    {
    case 1:
      if (value != NULL)
        return cli_usage_error (cli, "--%s takes no value.", key);
      value = "";
      break;
    case 2:
      if (value == NULL && ++*i < argc)
        value = argv[*i];
      if (value == NULL)
        return cli_usage_error (cli, "--%s needs a value.", key);
      break;
    default:
      return cli_usage_error (cli, "There is no option --%s here.", key);
    }
  if (g_hash_table_contains (cli->options, key))
    return cli_usage_error (cli, "--%s was given twice.", key);
  g_hash_table_insert (cli->options, g_steal_pointer (&key), g_strdup (value));
  return CLI_OK;
}

/* The verb of one or two words that begins at argv[i]; how many words it has in *used. */
static const CliVerb *
find_verb (char **argv, int argc, int i, int *used)
{
  for (const CliVerb *verb = cli_verbs; verb->name != NULL; verb++)
    {
      const char *space = strchr (verb->name, ' ');
      gsize length = space != NULL ? (gsize) (space - verb->name) : strlen (verb->name);

      if (strlen (argv[i]) != length || strncmp (argv[i], verb->name, length) != 0)
        continue;
      *used = space != NULL ? 2 : 1;
      if (space == NULL || (i + 1 < argc && strcmp (argv[i + 1], space + 1) == 0))
        return verb;
    }
  return NULL;
}

/* The first word of several verbs, such as "export", is waited with: its help may be asked for. */
static CliExit
no_verb (Cli *cli, const char *word)
{
  g_autofree char *verbs = cli_verbs_of (cli->group != NULL ? cli->group : word);

  if (cli->group != NULL)
    return cli_usage_error (cli, "There is no verb '%s %s'. There are: %s.", cli->group, word, verbs);
  if (verbs == NULL)
    return cli_usage_error (cli, "There is no verb '%s'.", word);
  cli->group = word;
  return CLI_OK;
}

static CliExit
read_line (Cli *cli, int argc, char **argv)
{
  gboolean options = TRUE;
  CliExit result = CLI_OK;

  for (int i = 1; i < argc && result == CLI_OK; i++)
    {
      int used = 1;

      if (options && strcmp (argv[i], "--") == 0)
        options = FALSE;
      else if (options && g_str_has_prefix (argv[i], "--"))
        result = read_option (cli, argv, argc, &i);
      else if (cli->verb != NULL)
        g_ptr_array_add (cli->words, argv[i]);
      else
        {
          cli->verb = cli->group == NULL ? find_verb (argv, argc, i, &used) : NULL;
          if (cli->verb == NULL)
            result = no_verb (cli, argv[i]);
          else
            i += used - 1;
        }
    }
  return result;
}

static CoreDay
today_now (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();

  return core_day_from_ymd (g_date_time_get_year (now), g_date_time_get_month (now),
                            g_date_time_get_day_of_month (now));
}

static CliExit
check_line (Cli *cli)
{
  int n = (int) cli->words->len;

  g_autofree char *verbs = cli->group != NULL ? cli_verbs_of (cli->group) : NULL;

  if (cli->verb == NULL && verbs != NULL)
    return cli_usage_error (cli, "'%s' needs a second word. There are: %s.", cli->group, verbs);
  if (cli->verb == NULL)
    return cli_usage_error (cli, "A verb is missing.");
  if (n < cli->verb->min)
    return cli_usage_error (cli, "Something is missing.");
  if (cli->verb->max >= 0 && n > cli->verb->max)
    return cli_usage_error (cli, "'%s' is too much.", cli_word (cli, (guint) cli->verb->max));
  cli->today = today_now ();
  if (!cli_option_day (cli, "today", &cli->today))
    return CLI_USAGE;
  if (!core_day_may_be_today (cli->today))
    return cli_usage_error (cli, "--today: the calendar here ends with the year 9999, and a plan "
                                 "looks ahead. Take an earlier day.");
  if (!cli_check_options (cli))
    return CLI_USAGE;
  cli->json = cli_option (cli, "json") != NULL;
  cli->journal = cli_option (cli, "journal");
  return CLI_OK;
}

/* ---- running ---- */

static CliExit
open_journal (Cli *cli)
{
  g_autofree char *own = cli_default_journal ();
  const char *dir = cli->journal != NULL ? cli->journal : own;
  GError *error = NULL;

  cli->desk = desk_open (dir, cli->today, cli->verb->open_flags | DESK_OPEN_LAZY, &error);
  if (cli->desk == NULL)
    return cli_fail (error);
  if (desk_read_only (cli->desk))
    g_printerr ("mantidary-cli: The journal can only be read here.\n");
  return CLI_OK;
}

CliExit
cli_open_if_there (Cli *cli)
{
  g_autofree char *own = cli_default_journal ();

  return cli->journal != NULL || g_file_test (own, G_FILE_TEST_EXISTS) ? open_journal (cli) : CLI_OK;
}

static CliExit
close_journal (Cli *cli, CliExit result)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) closed = NULL;
  GError *error = NULL;

  if (cli->desk == NULL)
    return result;
  desk_close_async (cli->desk, desk_sync_cb, &sync);
  closed = desk_sync_wait (&sync);
  if (!desk_close_finish (cli->desk, closed, &error) && result == CLI_OK)
    return cli_fail (error);
  g_clear_error (&error);
  return result;
}

static CliExit
run (Cli *cli)
{
  CliExit result = CLI_OK;

  cli_out_init (&cli->out, cli->json);
  if (cli->verb->needs_journal)
    result = open_journal (cli);
  if (result == CLI_OK)
    result = cli->verb->run (cli);
  result = close_journal (cli, result);
  g_clear_object (&cli->desk);
  cli_out_clear (&cli->out);
  return result;
}

static CliExit
start (Cli *cli, int argc, char **argv)
{
  CliExit result = read_line (cli, argc, argv);

  /* A NULL behind the last word, so that what follows the verb is a NULL-ended list. */
  g_ptr_array_add (cli->words, NULL);
  g_ptr_array_set_size (cli->words, (int) cli->words->len - 1);
  if (result != CLI_OK)
    return result;
  if (cli_option (cli, "help") != NULL)
    {
      if (cli->verb == NULL && cli->group != NULL)
        cli_print_group (cli->group, stdout);
      else
        cli_print_usage (cli->verb, stdout);
      return CLI_OK;
    }
  if (cli_option (cli, "version") != NULL)
    {
      g_print ("mantidary-cli %s\n", MANTIDARY_VERSION);
      return CLI_OK;
    }
  result = check_line (cli);
  return result == CLI_OK ? run (cli) : result;
}

int
main (int argc, char **argv)
{
  Cli cli = { 0 };
  CliExit result;

  setlocale (LC_ALL, "");
  words_init (NULL);
  cli.words = g_ptr_array_new ();
  cli.options = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  result = start (&cli, argc, argv);
  g_ptr_array_unref (cli.words);
  g_hash_table_unref (cli.options);
  return (int) result;
}
