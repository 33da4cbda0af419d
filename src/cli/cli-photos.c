/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-photos.c — many pictures at once, and the list of those that are there. */
#include "cli/cli.h"

#include <string.h>

#include "core/core-date.h"
#include "desk/desk-gallery.h"
#include "desk/desk-photos.h"

/* ---- photo batch ---- */

/* The day on which the file was last written, here. */
static CoreDay
file_day (GFile *file)
{
  g_autoptr (GFileInfo) info =
    g_file_query_info (file, G_FILE_ATTRIBUTE_TIME_MODIFIED, G_FILE_QUERY_INFO_NONE, NULL, NULL);
  g_autoptr (GDateTime) utc = info != NULL ? g_file_info_get_modification_date_time (info) : NULL;
  g_autoptr (GDateTime) here = utc != NULL ? g_date_time_to_local (utc) : NULL;

  return here == NULL ? CORE_DAY_NONE
                      : core_day_from_ymd (g_date_time_get_year (here), g_date_time_get_month (here),
                                           g_date_time_get_day_of_month (here));
}

/* SUBJECT=FILE. */
static CliExit
read_pair (Cli *cli, const char *pair, gboolean by_file, DeskPhotoFile *out)
{
  const char *equals = strchr (pair, '=');
  g_autofree char *label = equals != NULL ? g_strndup (pair, (gsize) (equals - pair)) : NULL;
  g_autoptr (DeskSubject) subject = NULL;
  GError *error = NULL;

  if (equals == NULL || equals == pair || equals[1] == '\0')
    return cli_usage_error (cli, "'%s' is not SUBJECT=FILE.", pair);
  subject = desk_find (cli->desk, label, &error);
  if (subject == NULL)
    return cli_fail (error);
  *out = (DeskPhotoFile){ .subject = desk_subject_id (subject), .day = CORE_DAY_NONE };
  out->file = g_file_new_for_commandline_arg (equals + 1);
  if (by_file)
    {
      out->day = file_day (out->file);
      out->keeper_says = out->day != CORE_DAY_NONE;
    }
  return CLI_OK;
}

static void
put_added (Cli *cli, const DeskPhotoFile *file, const DeskPhoto *photo)
{
  g_autoptr (DeskSubject) subject = desk_get (cli->desk, file->subject);
  g_autofree char *name = g_file_get_parse_name (file->file);
  WordsView view = { WORDS_LOCAL, cli->today, desk_scheme (cli->desk) };
  g_autofree char *wrong = words_photo_clock_wrong (&view, photo->wrong, photo->taken);

  if (photo->undated)
    g_printerr ("mantidary-cli: %s: %s\n", name, wrong != NULL ? wrong : words_photo_undated (WORDS_LOCAL));
  cli_out_open (&cli->out, NULL);
  cli_out_id (&cli->out, "photo", photo->photo);
  cli_out_str (&cli->out, "subject", desk_subject_label (subject));
  cli_out_str (&cli->out, "file", name);
  cli_out_str (&cli->out, "hash", photo->hash);
  cli_out_day (&cli->out, "taken", photo->taken);
  cli_out_day (&cli->out, "file_day", file_day (file->file));
  cli_out_day (&cli->out, "day", photo->day);
  cli_out_bool (&cli->out, "duplicate", photo->duplicate);
  cli_put_wrong_day (cli, photo);
  cli_out_close (&cli->out);
}

static void
put_refused (Cli *cli, const DeskPhotoFile *file, const GError *why)
{
  g_autofree char *name = g_file_get_parse_name (file->file);

  g_printerr ("mantidary-cli: %s: %s\n", name, why->message);
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "file", name);
  cli_out_str (&cli->out, "why", why->message);
  cli_out_close (&cli->out);
}

/* What is refused stands beside what is there; nothing at all is a failure. */
static CliExit
answer_batch (Cli *cli, const GArray *files, const GArray *added)
{
  guint refused = 0;

  cli_out_open (&cli->out, NULL);
  cli_out_array (&cli->out, "photos");
  for (guint i = 0; i < added->len; i++)
    {
      const DeskPhotoAdded *one = &g_array_index (added, DeskPhotoAdded, i);

      refused += one->why != NULL;
      if (one->why == NULL)
        put_added (cli, &g_array_index (files, DeskPhotoFile, i), &one->photo);
    }
  cli_out_array_end (&cli->out);
  cli_out_array (&cli->out, "refused");
  for (guint i = 0; i < added->len; i++)
    if (g_array_index (added, DeskPhotoAdded, i).why != NULL)
      put_refused (cli, &g_array_index (files, DeskPhotoFile, i), g_array_index (added, DeskPhotoAdded, i).why);
  cli_out_array_end (&cli->out);
  cli_out_close (&cli->out);
  if (refused == added->len)
    return CLI_CANNOT;
  return cli_finish (cli);
}

static void
file_clear (gpointer data)
{
  g_clear_object (&((DeskPhotoFile *) data)->file);
}

CliExit
cli_photo_batch (Cli *cli)
{
  const char *dates = cli_option (cli, "dates");
  const char *const *pairs = cli_words_from (cli, 0);
  g_autoptr (GArray) files = g_array_new (FALSE, FALSE, sizeof (DeskPhotoFile));
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GArray) added = NULL;
  DeskSync sync = { NULL };
  GError *error = NULL;

  if (dates != NULL && strcmp (dates, "camera") != 0 && strcmp (dates, "file") != 0)
    return cli_usage_error (cli, "--dates takes camera or file.");
  g_array_set_clear_func (files, file_clear);
  for (guint i = 0; pairs[i] != NULL; i++)
    {
      DeskPhotoFile one;
      CliExit code = read_pair (cli, pairs[i], dates != NULL && strcmp (dates, "file") == 0, &one);

      if (code != CLI_OK)
        return code;
      g_array_append_val (files, one);
    }
  desk_photos_add_async (cli->desk, (const DeskPhotoFile *) (void *) files->data, files->len, NULL, NULL,
                         desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  added = desk_photos_add_finish (cli->desk, result, &error);
  return added != NULL ? answer_batch (cli, files, added) : cli_fail (error);
}

/* ---- photo list ---- */

static void
put_picture (Cli *cli, const DeskPicture *picture)
{
  static const char *const sides[] = { "underside", "back", "flank" };
  static const char *const of[] = { "animal", "shed" };
  g_autoptr (DeskSubject) subject = desk_get (cli->desk, picture->subject);
  const WordsShown *shows = &picture->shows;

  cli_out_open (&cli->out, NULL);
  cli_out_id (&cli->out, "photo", picture->photo);
  cli_out_str (&cli->out, "subject", desk_subject_label (subject));
  cli_out_day (&cli->out, "day", picture->day);
  cli_out_bool (&cli->out, "dated", picture->dated);
  if (shows->moults >= 0)
    cli_out_int (&cli->out, "moults", shows->moults);
  else
    cli_out_null (&cli->out, "moults");
  cli_out_bool (&cli->out, "about", shows->about);
  cli_out_bool (&cli->out, "adult", shows->adult);
  cli_out_bool (&cli->out, "subadult", shows->subadult);
  cli_out_str (&cli->out, "of", shows->of >= 0 ? of[shows->of] : NULL);
  cli_out_str (&cli->out, "side", shows->side >= 0 ? sides[shows->side] : NULL);
  if (picture->plates >= 0)
    cli_out_int (&cli->out, "plates", picture->plates);
  else
    cli_out_null (&cli->out, "plates");
  cli_out_array (&cli->out, "size");
  cli_out_int (&cli->out, NULL, picture->width);
  cli_out_int (&cli->out, NULL, picture->height);
  cli_out_array_end (&cli->out);
  cli_out_num (&cli->out, "px_per_mm", picture->px_per_mm, 3);
  cli_out_num (&cli->out, "scale_sd", picture->scale_sd, 4);
  cli_out_close (&cli->out);
}

CliExit
cli_photo_list (Cli *cli)
{
  CoreId id = { { 0 } };
  CliExit code = CLI_OK;
  g_autoptr (DeskSubject) subject = cli_word (cli, 0) != NULL ? cli_subject (cli, 0, &code) : NULL;
  g_autoptr (GArray) pictures = NULL;

  if (code != CLI_OK)
    return code;
  if (subject != NULL)
    id = desk_subject_id (subject);
  pictures = desk_gallery (cli->desk, id);
  cli_out_open (&cli->out, NULL);
  cli_out_array (&cli->out, "photos");
  for (guint i = 0; i < pictures->len; i++)
    put_picture (cli, &g_array_index (pictures, DeskPicture, i));
  cli_out_array_end (&cli->out);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}
