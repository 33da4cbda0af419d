/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-backup.c — backup, restore, backups: the journal as a file, and back. */
#include "cli/cli.h"

#include <string.h>

#include "core/core-date.h"
#include "desk/desk-backup.h"

static const char *const left_names[] = {
  [DESK_LEFT_MISSING] = "missing",
  [DESK_LEFT_CHANGED] = "changed",
  [DESK_LEFT_KIND] = "kind",
};

static const char *const keep_names[] = {
  [CORE_KEEP_NOT] = "no",
  [CORE_KEEP_DAILY] = "daily",
  [CORE_KEEP_WEEKLY] = "weekly",
  [CORE_KEEP_AHEAD] = "ahead",
};

static DeskBackupFlags
flags_of (Cli *cli)
{
  DeskBackupFlags flags = DESK_BACKUP_DEFAULT;

  if (cli_option (cli, "replace") != NULL)
    flags |= DESK_BACKUP_REPLACE;
  if (cli_option (cli, "without-positions") != NULL)
    flags |= DESK_BACKUP_WITHOUT_POSITIONS;
  if (cli_option (cli, "without-damaged") != NULL)
    flags |= DESK_BACKUP_WITHOUT_DAMAGED;
  return flags;
}

void
cli_put_left_out (Cli *cli, GPtrArray *left_out)
{
  cli_out_array (&cli->out, "left_out");
  for (guint i = 0; i < left_out->len; i++)
    {
      const DeskLeft *left = left_out->pdata[i];

      cli_out_open (&cli->out, NULL);
      cli_out_str (&cli->out, "name", left->name);
      cli_out_str (&cli->out, "why", left_names[left->why]);
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
}

static void
put_backup (Cli *cli, const DeskBackup *backup)
{
  cli_out_day (&cli->out, "made", backup->made);
  cli_out_int (&cli->out, "entries", backup->entries);
  cli_out_int (&cli->out, "subjects", backup->subjects);
  cli_out_int (&cli->out, "photos", backup->photos);
  cli_out_bool (&cli->out, "positions", backup->positions);
  cli_put_left_out (cli, backup->left_out);
}

static void
tell_left_out (const DeskBackup *backup)
{
  if (backup->left_out->len > 0)
    g_printerr ("mantidary-cli: %u photos are not in it; the answer lists them.\n",
                backup->left_out->len);
}

CliExit
cli_backup (Cli *cli)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskBackup) backup = NULL;
  GError *error = NULL;

  desk_backup_async (cli->desk, cli_word (cli, 0), flags_of (cli), NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  backup = desk_backup_finish (cli->desk, result, &error);
  if (backup == NULL)
    return cli_fail (error);
  tell_left_out (backup);
  if (backup->positions && backup->photos > 0)
    g_printerr ("mantidary-cli: Pictures in it may say where they were taken. To give it away, "
                "write a copy with --without-positions.\n");
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "file", backup->path);
  cli_out_int (&cli->out, "bytes", backup->bytes);
  put_backup (cli, backup);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

static void
say_end_missing (const DeskSalvage *saved)
{
  g_autofree char *lost = words_salvage_lost (WORDS_LOCAL, (gsize) saved->entries_lost, TRUE);

  g_printerr ("mantidary-cli: Entries: %s.\n", lost);
}

static CliExit
salvage (Cli *cli)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  GError *error = NULL;
  DeskSalvage saved;

  desk_salvage_async (cli_word (cli, 0), cli_word (cli, 1), NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_salvage_finish (result, &saved, &error))
    return cli_fail (error);
  if (saved.pages_missing > 0)
    say_end_missing (&saved);
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "journal", cli_word (cli, 1));
  cli_out_int (&cli->out, "entries", saved.entries);
  if (saved.entries_lost == 0 && saved.pages_missing > 0)
    cli_out_null (&cli->out, "entries_lost");
  else
    cli_out_int (&cli->out, "entries_lost", saved.entries_lost);
  cli_out_bool (&cli->out, "end_missing", saved.pages_missing > 0);
  cli_out_int (&cli->out, "pages_missing", saved.pages_missing);
  cli_out_int (&cli->out, "subjects", saved.subjects);
  cli_out_int (&cli->out, "subjects_guessed", saved.subjects_guessed);
  cli_out_int (&cli->out, "photos", saved.photos);
  cli_out_int (&cli->out, "photos_lost", saved.photos_lost);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

CliExit
cli_restore (Cli *cli)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskBackup) backup = NULL;
  GError *error = NULL;

  if (cli_option (cli, "salvage") != NULL)
    return salvage (cli);
  desk_restore_async (cli_word (cli, 0), cli_word (cli, 1), flags_of (cli), NULL, desk_sync_cb,
                      &sync);
  result = desk_sync_wait (&sync);
  backup = desk_restore_finish (result, &error);
  if (backup == NULL)
    return cli_fail (error);
  tell_left_out (backup);
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "journal", cli_word (cli, 1));
  put_backup (cli, backup);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* ---- the daily ones ---- */

static CliExit
set_up (Cli *cli, const char *dir)
{
  const char *folder = cli_option (cli, "folder");
  const char *on = cli_option (cli, "on");
  g_autofree char *now = desk_backups_folder (dir);
  GError *error = NULL;

  if (folder == NULL && on == NULL)
    return CLI_OK;
  if (on != NULL && strcmp (on, "yes") != 0 && strcmp (on, "no") != 0)
    return cli_usage_error (cli, "--on %s: yes or no.", on);
  if (!desk_backups_set (dir, folder == NULL ? now : folder[0] != '\0' ? folder : NULL,
                         on != NULL ? strcmp (on, "yes") == 0 : desk_backups_on (dir), &error))
    return cli_fail (error);
  return CLI_OK;
}

/* The journal is opened for this alone: its backups can be listed while it is damaged. */
static CliExit
make_now (Cli *cli, const char *dir)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskBackup) backup = NULL;
  GError *error = NULL;

  cli->desk = desk_open (dir, cli->today, DESK_OPEN_LAZY, &error);
  if (cli->desk == NULL)
    return cli_fail (error);
  desk_backups_make_async (cli->desk, TRUE, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  backup = desk_backups_make_finish (cli->desk, result, &error);
  if (backup == NULL)
    return cli_fail (error);
  tell_left_out (backup);
  cli_out_open (&cli->out, "written");
  cli_out_str (&cli->out, "file", backup->path);
  cli_out_int (&cli->out, "bytes", backup->bytes);
  put_backup (cli, backup);
  cli_out_close (&cli->out);
  return CLI_OK;
}

CliExit
cli_backups (Cli *cli)
{
  g_autofree char *own = cli_default_journal ();
  const char *dir = cli->journal != NULL ? cli->journal : own;
  g_autofree char *folder = NULL;
  g_autoptr (GPtrArray) list = NULL;
  CliExit result = set_up (cli, dir);

  cli_out_open (&cli->out, NULL);
  if (result == CLI_OK && cli_option (cli, "now") != NULL)
    result = make_now (cli, dir);
  if (result != CLI_OK)
    return result;
  folder = desk_backups_folder (dir);
  cli_out_str (&cli->out, "folder", folder);
  cli_out_bool (&cli->out, "on", desk_backups_on (dir));
  list = desk_backups_list (dir, cli->today);
  cli_out_array (&cli->out, "backups");
  for (guint i = 0; i < list->len; i++)
    {
      const DeskDaily *daily = list->pdata[i];

      cli_out_open (&cli->out, NULL);
      cli_out_str (&cli->out, "file", daily->path);
      cli_out_day (&cli->out, "day", daily->day);
      cli_out_int (&cli->out, "bytes", daily->bytes);
      cli_out_str (&cli->out, "keep", keep_names[daily->keep]);
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}
