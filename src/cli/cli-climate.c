/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-climate.c — readings of loggers in and out, and what they say of a place. */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include "core/core-climate.h"
#include "core/core-date.h"
#include "desk/desk-climate.h"
#include "desk/desk-logger.h"

#define MOST_BYTES (257u * 1024 * 1024) /* more is not read: it is refused */

/* FALSE: said so. */
static gboolean
place_named (const char *label, Desk *desk, CoreId *place, CliExit *code)
{
  GError *error = NULL;
  g_autoptr (DeskSubject) subject = desk_find (desk, label, &error);

  if (subject == NULL)
    *code = cli_fail (error);
  else if (desk_subject_kind (subject) != CORE_SUBJECT_PLACE)
    *code = cli_refuse ("%s is no place. Name a shelf by its name or code.", label);
  else
    *place = desk_subject_id (subject);
  return *code == CLI_OK;
}

static gboolean
place_option (Cli *cli, CoreId *place, CliExit *code)
{
  const char *label = cli_option (cli, "place");

  if (label == NULL)
    {
      *code = cli_usage_error (cli, "--place is needed: the shelf or the home of the readings.");
      return FALSE;
    }
  return place_named (label, cli->desk, place, code);
}

static void
put_time (Cli *cli, const char *key, gint64 at)
{
  int second = (int) (at % CORE_SERIES_DAY);
  char day[11];
  g_autofree char *text = NULL;

  core_day_to_text ((CoreDay) (at / CORE_SERIES_DAY), day);
  text = g_strdup_printf ("%s %02d:%02d:%02d", day, second / 3600, second / 60 % 60, second % 60);
  cli_out_str (&cli->out, key, text);
}

/* ---- in ---- */

static GBytes *
read_input (GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  guint8 part[65536];
  gsize n;

  while (bytes->len < MOST_BYTES && (n = fread (part, 1, sizeof part, stdin)) > 0)
    g_byte_array_append (bytes, part, (guint) n);
  if (ferror (stdin))
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_FAILED, "Standard input cannot be read.");
      return NULL;
    }
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

static DeskLogger *
open_logger (Cli *cli, const char *path, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GFile) file = NULL;
  g_autoptr (GBytes) bytes = NULL;

  if (strcmp (path, "-") == 0)
    {
      bytes = read_input (error);
      return bytes != NULL ? desk_logger_new (cli->desk, bytes, "", error) : NULL;
    }
  file = g_file_new_for_commandline_arg (path);
  desk_logger_open_async (cli->desk, file, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_logger_open_finish (cli->desk, result, error);
}

static gboolean
set_options (Cli *cli, DeskLogger *logger, GError **error)
{
  static const char *const keys[] = { "time",  "clock", "temperature", "humidity",
                                      "unit",  "dates", "decimal",     "zone" };

  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if (cli_option (cli, keys[i]) != NULL &&
        !desk_logger_set (logger, keys[i], cli_option (cli, keys[i]), error))
      return FALSE;
  return TRUE;
}

static void
put_column (Cli *cli, DeskLogger *logger, const char *key, DeskLoggerColumn what)
{
  int column = desk_logger_column (logger, what);

  if (column < 0)
    cli_out_null (&cli->out, key);
  else
    cli_out_int (&cli->out, key, column + 1);
}

static void
put_mapping (Cli *cli, DeskLogger *logger)
{
  char unit[2] = { desk_logger_unit (logger), '\0' }, decimal[2] = { desk_logger_decimal (logger), '\0' };
  g_autofree char *zone = desk_logger_zone (logger);

  cli_out_open (&cli->out, "mapping");
  put_column (cli, logger, "time", DESK_LOGGER_TIME);
  put_column (cli, logger, "clock", DESK_LOGGER_CLOCK);
  put_column (cli, logger, "temperature", DESK_LOGGER_T);
  put_column (cli, logger, "humidity", DESK_LOGGER_RH);
  cli_out_str (&cli->out, "unit", unit[0] != '\0' ? unit : NULL);
  cli_out_str (&cli->out, "dates", desk_logger_dates (logger));
  cli_out_str (&cli->out, "decimal", decimal);
  cli_out_str (&cli->out, "zone", zone);
  cli_out_close (&cli->out);
}

static void
put_found (Cli *cli, DeskLogger *logger)
{
  const WordsReadings *found = desk_logger_found (logger);

  cli_out_int (&cli->out, "readings", found->readings);
  cli_out_int (&cli->out, "already", found->already);
  cli_out_int (&cli->out, "differing", found->differing);
  cli_out_int (&cli->out, "duplicates", found->duplicates);
  cli_out_int (&cli->out, "contradictions", found->contradictions);
  cli_out_int (&cli->out, "n_gaps", found->gaps);
  cli_out_int (&cli->out, "n_bad", found->bad);
  cli_out_day (&cli->out, "first", found->first);
  cli_out_day (&cli->out, "last", found->last);
  cli_out_int (&cli->out, "step_s", desk_logger_step (logger));
  cli_out_array (&cli->out, "gaps");
  for (guint i = 0; i < desk_logger_n_gaps (logger); i++)
    {
      gint64 from, to;

      desk_logger_gap (logger, i, &from, &to);
      cli_out_open (&cli->out, NULL);
      put_time (cli, "from", from);
      put_time (cli, "to", to);
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
  cli_out_array (&cli->out, "bad");
  for (guint i = 0; i < desk_logger_n_bad (logger); i++)
    {
      guint line;
      g_autofree char *text = desk_logger_bad (logger, cli_lang (cli), i, &line);

      cli_out_open (&cli->out, NULL);
      cli_out_int (&cli->out, "line", line);
      cli_out_str (&cli->out, "text", text);
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
}

static CliExit
answer (Cli *cli, DeskLogger *logger, gboolean written)
{
  WordsView view = cli_view (cli);
  g_autofree char *text = words_readings_summary (&view, desk_logger_found (logger));

  if (!cli->json)
    {
      g_string_append_printf (cli->out.text, "%s\n", text);
      return cli_finish (cli);
    }
  cli_out_open (&cli->out, NULL);
  cli_out_bool (&cli->out, "written", written);
  put_found (cli, logger);
  put_mapping (cli, logger);
  cli_out_str (&cli->out, "text", text);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* Lines that were not understood are left out only where somebody says so. */
static CliExit
tell_bad (DeskLogger *logger)
{
  guint all = desk_logger_found (logger)->bad;

  for (guint i = 0; i < desk_logger_n_bad (logger); i++)
    {
      guint line;
      g_autofree char *text = desk_logger_bad (logger, WORDS_LOCAL, i, &line);

      g_printerr ("mantidary-cli: %s\n", text);
    }
  return cli_refuse ("%u %s not understood. Nothing was written. Correct the file, or leave out what was not "
                     "understood with --leave-out.",
                     all, all == 1 ? "line was" : "lines were");
}

static CliExit
write_readings (Cli *cli, DeskLogger *logger)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  GError *error = NULL;
  guint written;

  if (desk_logger_found (logger)->bad > 0 && cli_option (cli, "leave-out") == NULL)
    return tell_bad (logger);
  desk_logger_write_async (logger, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_logger_write_finish (logger, result, &written, &error) ? answer (cli, logger, TRUE)
                                                                     : cli_fail (error);
}

CliExit
cli_import_readings (Cli *cli)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskLogger) logger = NULL;
  CoreId place;
  CliExit code = CLI_OK;
  GError *error = NULL;

  if (!place_option (cli, &place, &code))
    return code;
  logger = open_logger (cli, cli_word (cli, 0), &error);
  if (logger == NULL || !set_options (cli, logger, &error))
    return cli_fail (error);
  desk_logger_look_async (logger, place, cli_option (cli, "inside") != NULL, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_logger_look_finish (logger, result, &error))
    return cli_fail (error);
  return cli_option (cli, "look") != NULL ? answer (cli, logger, FALSE) : write_readings (cli, logger);
}

/* ---- out ---- */

CliExit
cli_export_readings (Cli *cli)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  CoreId place;
  CliExit code = CLI_OK;
  GError *error = NULL;
  guint n;

  if (!place_option (cli, &place, &code))
    return code;
  desk_readings_export_async (cli->desk, place, cli_option (cli, "inside") != NULL, cli_word (cli, 0),
                              cli_option (cli, "replace") != NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_readings_export_finish (cli->desk, result, &n, &error))
    return cli_fail (error);
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "file", cli_word (cli, 0));
  cli_out_int (&cli->out, "readings", n);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

/* ---- what they say ---- */

static void
put_pair (Cli *cli, const char *key, double lo, double hi)
{
  cli_out_array (&cli->out, key);
  cli_out_num (&cli->out, NULL, lo, 1);
  cli_out_num (&cli->out, NULL, hi, 1);
  cli_out_array_end (&cli->out);
}

static void
put_band (Cli *cli, const DeskBand *band)
{
  cli_out_open (&cli->out, "band");
  put_pair (cli, "day", band->band.day_lo, band->band.day_hi);
  put_pair (cli, "night", band->band.night_lo, band->band.night_hi);
  put_pair (cli, "humidity", band->band.rh_lo, band->band.rh_hi);
  cli_out_array (&cli->out, "species");
  for (guint i = 0; i < band->species->len; i++)
    cli_out_str (&cli->out, NULL, ((const CoreProfile *) band->species->pdata[i])->scientific);
  cli_out_array_end (&cli->out);
  cli_out_close (&cli->out);
}

static void
put_day (Cli *cli, const CoreClimateDay *day)
{
  cli_out_open (&cli->out, NULL);
  cli_out_day (&cli->out, "day", day->day);
  cli_out_int (&cli->out, "n", (gint64) day->n);
  cli_out_num (&cli->out, "hours", day->hours, 2);
  cli_out_num (&cli->out, "t_min", day->t_min, 2);
  cli_out_num (&cli->out, "t_mean", day->t_mean, 2);
  cli_out_num (&cli->out, "t_max", day->t_max, 2);
  cli_out_num (&cli->out, "rh_min", day->rh_min, 1);
  cli_out_num (&cli->out, "rh_mean", day->rh_mean, 1);
  cli_out_num (&cli->out, "rh_max", day->rh_max, 1);
  cli_out_num (&cli->out, "t_above_h", day->t_above, 2);
  cli_out_num (&cli->out, "t_below_h", day->t_below, 2);
  cli_out_num (&cli->out, "rh_above_h", day->rh_above, 2);
  cli_out_num (&cli->out, "rh_below_h", day->rh_below, 2);
  cli_out_close (&cli->out);
}

static void
put_days (Cli *cli, const DeskClimate *climate, const CoreComfort *band, CoreDay from, CoreDay to)
{
  const CoreMoment *v = (const CoreMoment *) (const void *) climate->moments->data;
  gsize n = climate->moments->len, i = core_climate_find (v, n, (gint64) from * CORE_SERIES_DAY);

  cli_out_array (&cli->out, "days");
  while (i < n && CORE_MOMENT_DAY (&v[i]) <= to)
    {
      gsize next = core_climate_find (v, n, ((gint64) CORE_MOMENT_DAY (&v[i]) + 1) * CORE_SERIES_DAY);
      CoreClimateDay day = core_climate_day (v + i, next - i, climate->gap, band);

      put_day (cli, &day);
      i = next;
    }
  cli_out_array_end (&cli->out);
}

static void
put_night (Cli *cli, const DeskClimate *climate, const CoreComfort *band)
{
  WordsView view = cli_view (cli);
  g_autofree char *text = NULL;
  CoreNight night;

  if (!core_climate_night ((const CoreMoment *) (const void *) climate->moments->data,
                           climate->moments->len, band, &night))
    {
      cli_out_null (&cli->out, "night");
      return;
    }
  text = words_climate_night (&view, &night);
  cli_out_open (&cli->out, "night");
  cli_out_num (&cli->out, "day_c", night.day_c, 2);
  cli_out_num (&cli->out, "day_rh", night.day_rh, 1);
  cli_out_num (&cli->out, "night_c", night.night_c, 2);
  cli_out_num (&cli->out, "dew_point", night.dew_point, 2);
  cli_out_num (&cli->out, "absolute", night.absolute, 2);
  cli_out_num (&cli->out, "rh_night", night.rh_night, 1);
  cli_out_num (&cli->out, "measured", night.measured, 1);
  cli_out_bool (&cli->out, "condenses", night.condenses);
  cli_out_str (&cli->out, "text", text);
  cli_out_close (&cli->out);
}

static void
put_climate (Cli *cli, const char *label, const DeskClimate *climate, CoreDay from, CoreDay to)
{
  const GArray *all = climate->moments;
  DeskBand band;

  desk_band_of_place (cli->desk, climate->place, &band);
  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "place", label);
  cli_out_bool (&cli->out, "inside", climate->inside);
  cli_out_int (&cli->out, "readings", all->len);
  if (all->len > 0)
    {
      put_time (cli, "first", g_array_index (all, CoreMoment, 0).at);
      put_time (cli, "last", g_array_index (all, CoreMoment, all->len - 1).at);
    }
  else
    {
      cli_out_null (&cli->out, "first");
      cli_out_null (&cli->out, "last");
    }
  cli_out_int (&cli->out, "step_s", climate->step);
  cli_out_int (&cli->out, "two_values", climate->two_values);
  put_band (cli, &band);
  put_night (cli, climate, &band.band);
  put_days (cli, climate, &band.band, from, to);
  cli_out_close (&cli->out);
  desk_band_clear (&band);
}

CliExit
cli_climate (Cli *cli)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskClimate) climate = NULL;
  CoreDay from = 0, to = cli->today;
  CoreId place;
  CliExit code = CLI_OK;
  GError *error = NULL;

  if (!cli_option_day (cli, "from", &from) || !cli_option_day (cli, "to", &to))
    return CLI_USAGE;
  if (!place_named (cli_word (cli, 0), cli->desk, &place, &code))
    return code;
  desk_climate_async (cli->desk, place, cli_option (cli, "inside") != NULL, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  climate = desk_climate_finish (cli->desk, result, &error);
  if (climate == NULL)
    return cli_fail (error);
  put_climate (cli, cli_word (cli, 0), climate, from, to);
  return cli_finish (cli);
}
