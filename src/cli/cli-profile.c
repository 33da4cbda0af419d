/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-profile.c — species profiles: list, show, check a file, change values, take in, give out. */
#include "cli/cli.h"

#include <string.h>

#include "desk/desk-profile.h"
#include "words/words-profile.h"

/* With the journal's own values where there is a journal, else the shipped ones. NULL: said so. */
static DeskProfiles *
profiles_of (Cli *cli, CliExit *code)
{
  DeskProfiles *profiles;
  GError *error = NULL;

  *code = cli_open_if_there (cli);
  if (*code != CLI_OK)
    return NULL;
  profiles = cli->desk != NULL ? desk_profiles_of (cli->desk) : desk_profiles_load (&error);
  if (profiles == NULL)
    *code = cli_fail (error);
  return profiles;
}

static void
put_profile (Cli *cli, DeskProfiles *profiles, const CoreProfile *profile)
{
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "species", profile->scientific);
  cli_out_str (&cli->out, "common", profile->common);
  cli_out_bool (&cli->out, "general", profile->general);
  cli_out_bool (&cli->out, "own", desk_profile_is_own (profiles, profile));
  cli_out_int (&cli->out, "ours", profile->n_ours);
  cli_out_int (&cli->out, "practice", profile->n_practice);
  cli_out_int (&cli->out, "measured", profile->n_measured);
  cli_out_close (&cli->out);
}

CliExit
cli_profile_list (Cli *cli)
{
  CliExit code;
  g_autoptr (DeskProfiles) profiles = profiles_of (cli, &code);
  g_autoptr (GPtrArray) problems = NULL;
  const GPtrArray *list;

  if (profiles == NULL)
    return code;
  list = desk_profiles_list (profiles);
  problems = desk_profile_problems (profiles);
  cli_out_open (&cli->out, NULL);
  cli_out_array (&cli->out, "profiles");
  for (guint i = 0; i < list->len; i++)
    put_profile (cli, profiles, list->pdata[i]);
  cli_out_array_end (&cli->out);
  cli_out_array (&cli->out, "problems");
  for (guint i = 0; i < problems->len; i++)
    cli_out_str (&cli->out, NULL, problems->pdata[i]);
  cli_out_array_end (&cli->out);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* ---- one of them ---- */

static char *
value_text (WordsLang lang, const DeskProfileValue *value, const char *what)
{
  return what != NULL ? words_profile_value (lang, value->group, value->key, what) : NULL;
}

static void
put_value (Cli *cli, const DeskProfileValue *value)
{
  g_autofree char *text = value_text (cli_lang (cli), value, value->value);

  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "group", value->group);
  cli_out_str (&cli->out, "key", value->key);
  cli_out_str (&cli->out, "value", value->value);
  cli_out_str (&cli->out, "from", value->from);
  cli_out_bool (&cli->out, "stands", value->stands);
  cli_out_bool (&cli->out, "own", value->own);
  cli_out_str (&cli->out, "shipped", value->shipped);
  cli_out_str (&cli->out, "shipped_from", value->shipped_from);
  cli_out_str (&cli->out, "other", value->other);
  cli_out_str (&cli->out, "other_from", value->other_from);
  cli_out_str (&cli->out, "note", value->note);
  cli_out_str (&cli->out, "text", text);
  cli_out_close (&cli->out);
}

static void
put_view (Cli *cli, const DeskProfileView *view)
{
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "species", view->profile->scientific);
  cli_out_str (&cli->out, "common", view->profile->common);
  cli_out_str (&cli->out, "id", view->profile->id);
  cli_out_str (&cli->out, "hash", view->profile->hash);
  cli_out_bool (&cli->out, "shipped", view->shipped);
  cli_out_int (&cli->out, "own", view->n_own);
  cli_out_bool (&cli->out, "moved_on", view->moved_on);
  cli_out_str (&cli->out, "problem", view->problem);
  cli_out_array (&cli->out, "values");
  for (guint i = 0; i < view->values->len; i++)
    put_value (cli, view->values->pdata[i]);
  cli_out_array_end (&cli->out);
  cli_out_array (&cli->out, "sources");
  for (guint i = 0; i < view->sources->len; i++)
    {
      const DeskProfileSource *source = view->sources->pdata[i];

      cli_out_open (&cli->out, NULL);
      cli_out_str (&cli->out, "id", source->id);
      cli_out_str (&cli->out, "text", source->text);
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
  cli_out_close (&cli->out);
}

/* For people: a line a value, the other side and the note under it. */
static void
print_value (const DeskProfileValue *value, const char *const *ids)
{
  g_autofree char *text = value_text (WORDS_LOCAL, value, value->value);
  g_autofree char *shipped = value_text (WORDS_LOCAL, value, value->shipped);
  g_autofree char *other = value_text (WORDS_LOCAL, value, value->other);
  g_autofree char *from = words_profile_from (WORDS_LOCAL, value->from != NULL ? value->from : "", ids);
  g_autofree char *other_from =
    words_profile_from (WORDS_LOCAL, value->other_from != NULL ? value->other_from : "", ids);

  g_print ("  %s: %s%s%s%s\n", words_profile_label (WORDS_LOCAL, value->group, value->key), text,
           from[0] != '\0' ? " (" : value->stands ? "" : " (table of the group", from,
           from[0] != '\0' || !value->stands ? ")" : "");
  if (value->own && shipped != NULL)
    g_print ("      shipped: %s\n", shipped);
  if (other != NULL)
    g_print ("      others: %s%s%s%s\n", other, other_from[0] != '\0' ? " (" : "", other_from,
             other_from[0] != '\0' ? ")" : "");
  if (value->note != NULL)
    g_print ("      %s\n", value->note);
}

static void
print_view (const DeskProfileView *view)
{
  g_autofree const char **ids = g_new0 (const char *, view->sources->len + 1);
  const char *group = "";

  for (guint i = 0; i < view->sources->len; i++)
    ids[i] = ((DeskProfileSource *) view->sources->pdata[i])->id;
  for (guint i = 0; i < view->values->len; i++)
    {
      const DeskProfileValue *value = view->values->pdata[i];

      if (strcmp (group, value->group) != 0)
        {
          g_autofree char *title = words_profile_group (WORDS_LOCAL, value->group);

          g_print ("%s%s\n", i > 0 ? "\n" : "", title);
          group = value->group;
        }
      print_value (value, ids);
    }
  for (guint i = 0; i < view->sources->len; i++)
    g_print ("%s[%u] %s\n", i == 0 ? "\n" : "", i + 1,
             ((DeskProfileSource *) view->sources->pdata[i])->text);
}

CliExit
cli_profile_show (Cli *cli)
{
  CliExit code;
  g_autoptr (DeskProfiles) profiles = profiles_of (cli, &code);
  g_autoptr (DeskProfileView) view = NULL;
  GError *error = NULL;

  if (profiles == NULL)
    return code;
  view = desk_profiles_view (profiles, cli_word (cli, 0), &error);
  if (view == NULL)
    return cli_fail (error);
  if (!cli->json)
    {
      print_view (view);
      return CLI_OK;
    }
  put_view (cli, view);
  return cli_finish (cli);
}

/* ---- files ---- */

static DeskProfileFile *
look_at (Cli *cli, const char *path, CliExit *code)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  GError *error = NULL;
  DeskProfileFile *file;

  desk_profile_look_async (cli->desk, path, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  file = desk_profile_look_finish (result, &error);
  *code = file != NULL ? CLI_OK : cli_fail (error);
  return file;
}

static CliExit
put_file (Cli *cli, const DeskProfileFile *file, gboolean written)
{
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "species", file->scientific);
  cli_out_str (&cli->out, "common", file->common);
  cli_out_int (&cli->out, "values", file->n_values);
  cli_out_bool (&cli->out, "known", file->known);
  cli_out_bool (&cli->out, "written", written);
  cli_out_array (&cli->out, "changes");
  for (guint i = 0; i < file->changes->len; i++)
    put_value (cli, file->changes->pdata[i]);
  cli_out_array_end (&cli->out);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

CliExit
cli_profile_check (Cli *cli)
{
  CliExit code = cli_open_if_there (cli);
  g_autoptr (DeskProfileFile) file = code == CLI_OK ? look_at (cli, cli_word (cli, 0), &code) : NULL;

  return file != NULL ? put_file (cli, file, FALSE) : code;
}

CliExit
cli_import_profiles (Cli *cli)
{
  CliExit code;
  g_autoptr (DeskProfileFile) file = look_at (cli, cli_word (cli, 0), &code);
  gboolean look = cli_option (cli, "look") != NULL;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  GError *error = NULL;

  if (file == NULL || look)
    return file != NULL ? put_file (cli, file, FALSE) : code;
  desk_profile_take_async (cli->desk, file, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_profile_take_finish (cli->desk, result, &error))
    return cli_fail (error);
  return put_file (cli, file, file->changes->len > 0);
}

CliExit
cli_export_profiles (Cli *cli)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  const CoreProfile *profile;
  GError *error = NULL;

  desk_profile_give_async (cli->desk, cli_word (cli, 0), cli_word (cli, 1),
                           cli_option (cli, "replace") != NULL, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_profile_give_finish (result, &error))
    return cli_fail (error);
  profile = desk_find_profile (cli->desk, cli_word (cli, 0), NULL);
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "file", cli_word (cli, 1));
  cli_out_str (&cli->out, "species", profile != NULL ? profile->scientific : NULL);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* ---- changing ---- */

static CliExit
put_own (Cli *cli, const char *species)
{
  g_autoptr (DeskProfileView) view = desk_profile_view (cli->desk, species, NULL);

  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "species", view != NULL ? view->profile->scientific : species);
  cli_out_int (&cli->out, "own", view != NULL ? view->n_own : 0);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

static CliExit
edit (Cli *cli, const char *species, const char *const *edits)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  GError *error = NULL;

  desk_profile_edit_async (cli->desk, species, edits, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_profile_edit_finish (cli->desk, result, &error) ? put_own (cli, species)
                                                              : cli_fail (error);
}

CliExit
cli_profile_set (Cli *cli)
{
  const char *const *edits = cli_words_from (cli, 1);

  for (guint i = 0; edits[i] != NULL; i++)
    if (strchr (edits[i], '=') == NULL)
      return cli_usage_error (cli, "'%s': expected GROUP.KEY=VALUE.", edits[i]);
  return edit (cli, cli_word (cli, 0), edits);
}

CliExit
cli_profile_reset (Cli *cli)
{
  const char *const *names = cli_words_from (cli, 1);
  g_autofree char *species = NULL;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  GError *error = NULL;
  const CoreProfile *profile;

  for (guint i = 0; names[i] != NULL; i++)
    if (strchr (names[i], '=') != NULL)
      return cli_usage_error (cli, "'%s': a name alone goes back to its shipped value.", names[i]);
  if (names[0] != NULL)
    return edit (cli, cli_word (cli, 0), names);
  profile = desk_find_profile (cli->desk, cli_word (cli, 0), &error);
  if (profile == NULL)
    return cli_fail (error);
  species = g_strdup (profile->scientific);
  desk_profile_reset_async (cli->desk, species, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_profile_reset_finish (cli->desk, result, &error) ? put_own (cli, species)
                                                               : cli_fail (error);
}
