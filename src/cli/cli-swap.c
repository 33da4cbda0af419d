/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-swap.c — two cups that exchange their places; two animals that were mixed up. */
#include "cli/cli.h"

#include <string.h>

#include "desk/desk-doubt.h"
#include "desk/desk-identity.h"
#include "desk/desk-when.h"

static void
put_stand (Cli *cli, CoreId id)
{
  g_autoptr (DeskSubject) cup = desk_get (cli->desk, id);
  g_autoptr (DeskSubject) place = NULL;
  CoreId stands;
  double at;

  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "subject", desk_subject_label (cup));
  if (desk_subject_place (cup, &stands, &at))
    {
      place = desk_get (cli->desk, stands);
      cli_out_str (&cli->out, "place", place != NULL ? desk_subject_label (place) : NULL);
      cli_out_num (&cli->out, "at", at, 6);
    }
  else
    {
      cli_out_null (&cli->out, "place");
      cli_out_null (&cli->out, "at");
    }
  cli_out_close (&cli->out);
}

static void
put_both (Cli *cli, CoreId a, CoreId b)
{
  cli_out_array (&cli->out, "subjects");
  put_stand (cli, a);
  put_stand (cli, b);
  cli_out_array_end (&cli->out);
}

static CliExit
swap_places (Cli *cli, CoreId a, CoreId b)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  GError *error = NULL;

  desk_swap_async (cli->desk, a, b, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_swap_finish (cli->desk, result, &error))
    return cli_fail (error);
  cli_out_open (&cli->out, NULL);
  put_both (cli, a, b);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* ---- mixed up ---- */

/* One "PHOTO=NUMBER" of --shows. */
static gboolean
read_shown (Cli *cli, const char *text, const GPtrArray *photos, DeskShown *out, CliExit *code)
{
  g_auto (GStrv) pair = g_strsplit (text, "=", 2);
  g_autoptr (DeskSubject) animal = NULL;
  GError *error = NULL;
  gboolean among = FALSE;

  *code = CLI_CANNOT;
  if (pair[0] == NULL || pair[1] == NULL)
    {
      *code = cli_usage_error (cli, "--shows takes PHOTO=NUMBER, and a comma between two.");
      return FALSE;
    }
  if (!cli_entry_id (pair[0], &out->photo))
    return FALSE;
  animal = desk_find (cli->desk, pair[1], &error);
  if (animal == NULL)
    {
      *code = cli_fail (error);
      return FALSE;
    }
  out->shows = desk_subject_id (animal);
  for (guint i = 0; i < photos->len; i++)
    among |= core_id_equal (desk_photo_first (cli->desk, ((const CoreEntry *) photos->pdata[i])->id),
                            desk_photo_first (cli->desk, out->photo));
  if (!among)
    *code = cli_refuse ("'%s' is no picture of the two since that day. `history` lists them.", pair[0]);
  return among;
}

static gboolean
read_all_shown (Cli *cli, CoreId a, CoreId b, const GPtrArray *photos, GArray *shown, CliExit *code)
{
  const char *text = cli_option (cli, "shows");
  g_auto (GStrv) parts = g_strsplit (text != NULL ? text : "", ",", -1);

  for (gsize i = 0; parts[i] != NULL; i++)
    {
      DeskShown one;

      if (!read_shown (cli, parts[i], photos, &one, code))
        return FALSE;
      if (!core_id_equal (one.shows, a) && !core_id_equal (one.shows, b))
        {
          *code = cli_refuse ("--shows %s: a picture shows one of the two.", parts[i]);
          return FALSE;
        }
      g_array_append_val (shown, one);
    }
  return TRUE;
}

static gboolean
is_shown (Cli *cli, const GArray *shown, CoreId photo)
{
  for (guint i = 0; i < shown->len; i++)
    if (core_id_equal (desk_photo_first (cli->desk, g_array_index (shown, DeskShown, i).photo), photo))
      return TRUE;
  return FALSE;
}

/* Where the pictures lie now; `seen`: the keeper said which of the two it shows. */
static void
put_pictures (Cli *cli, const GArray *photos, const GArray *shown)
{
  cli_out_array (&cli->out, "pictures");
  for (guint i = 0; i < photos->len; i++)
    {
      CoreId photo = g_array_index (photos, CoreId, i);
      const CoreEntry *entry = desk_entry_heir (cli->desk, photo);
      g_autoptr (DeskSubject) owner = entry != NULL ? desk_get (cli->desk, entry->subject) : NULL;

      cli_out_open (&cli->out, NULL);
      cli_out_id (&cli->out, "photo", photo);
      cli_out_str (&cli->out, "subject", owner != NULL ? desk_subject_label (owner) : NULL);
      cli_out_bool (&cli->out, "seen", is_shown (cli, shown, photo));
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
}

static CliExit
swap_animals (Cli *cli, CoreId a, CoreId b, CoreDay since)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GPtrArray) entries = desk_mixed_photos (cli->desk, a, b, since);
  g_autoptr (GArray) photos = g_array_new (FALSE, FALSE, sizeof (CoreId));
  g_autoptr (GArray) shown = g_array_new (FALSE, FALSE, sizeof (DeskShown));
  CliExit code = CLI_OK;
  GError *error = NULL;
  guint moved = 0;

  if (!read_all_shown (cli, a, b, entries, shown, &code))
    return code;
  for (guint i = 0; i < entries->len; i++)
    {
      CoreId photo = desk_photo_first (cli->desk, ((const CoreEntry *) entries->pdata[i])->id);

      g_array_append_val (photos, photo);
    }
  desk_mixed_async (cli->desk, a, b, since, (const DeskShown *) shown->data, shown->len, desk_sync_cb,
                    &sync);
  result = desk_sync_wait (&sync);
  if (!desk_mixed_finish (cli->desk, result, &moved, &error))
    return cli_fail (error);
  cli_out_open (&cli->out, NULL);
  put_both (cli, a, b);
  cli_out_day (&cli->out, "since", since);
  cli_out_int (&cli->out, "moved", moved);
  put_pictures (cli, photos, shown);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

CliExit
cli_swap (Cli *cli)
{
  CliExit code = CLI_OK;
  CoreDay since = CORE_DAY_NONE;
  g_autoptr (DeskSubject) a = NULL;
  g_autoptr (DeskSubject) b = NULL;
  g_autofree char *doubt = NULL;

  if (!cli_option_past (cli, "since", &since))
    return CLI_USAGE;
  if (since != CORE_DAY_NONE && desk_when_is_todays_weekday (cli_option (cli, "since"), cli->today))
    return cli_refuse (
      "--since '%s': is that today or a week ago? Say today, or 'last %s'. Nothing was written.",
      cli_option (cli, "since"), cli_option (cli, "since"));
  if (since == CORE_DAY_NONE && cli_option (cli, "shows") != NULL)
    return cli_usage_error (cli, "--shows goes with --since.");
  a = cli_subject (cli, 0, &code);
  b = a != NULL ? cli_subject (cli, 1, &code) : NULL;
  if (b == NULL)
    return code;
  if (since != CORE_DAY_NONE && cli_option (cli, "sure") == NULL)
    doubt = desk_doubt_of_mixed (cli->desk, desk_subject_id (a), desk_subject_id (b), WORDS_LOCAL);
  if (doubt != NULL)
    return cli_refuse ("%s Nothing was written; if it is so, say --sure.", doubt);
  return since == CORE_DAY_NONE ? swap_places (cli, desk_subject_id (a), desk_subject_id (b))
                                : swap_animals (cli, desk_subject_id (a), desk_subject_id (b), since);
}
