/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-count.c — the finder over one picture, or over many: one JSON object each. */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include "desk/desk-count.h"

static const char *const unusable_names[] = { "too_short", "blurred", "glare", "low_contrast",
                                              "weak_evidence" };
static const WordsUnusable unusable_words[] = { WORDS_UNUSABLE_SHORT, WORDS_UNUSABLE_BLUR,
                                                WORDS_UNUSABLE_GLARE, WORDS_UNUSABLE_CONTRAST,
                                                WORDS_UNUSABLE_WEAK };

static int
plates_of (int index)
{
  return index == 0 ? 0 : CORE_SEGMENT_MIN + index - 1;
}

static void
put_counts (Cli *cli, const char *key, const double *p)
{
  cli_out_open (&cli->out, key);
  for (int i = 0; i < CORE_SEGMENT_COUNTS; i++)
    {
      char name[8];

      g_snprintf (name, sizeof name, "%d", plates_of (i));
      cli_out_num (&cli->out, i == 0 ? "none" : name, p[i], 9);
    }
  cli_out_close (&cli->out);
}

static void
put_bounds (Cli *cli,
            const char *key,
            const CoreSegmentBound *bounds,
            const double *x,
            const double *y,
            int n)
{
  cli_out_array (&cli->out, key);
  for (int i = 0; i < n; i++)
    {
      cli_out_open (&cli->out, NULL);
      cli_out_num (&cli->out, "at", bounds[i].at, 5);
      cli_out_num (&cli->out, "sd", bounds[i].sd, 5);
      cli_out_num (&cli->out, "x", x[i], 2);
      cli_out_num (&cli->out, "y", y[i], 2);
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
}

static void
put_unusable (Cli *cli, unsigned bits)
{
  cli_out_array (&cli->out, "reasons");
  for (gsize i = 0; i < G_N_ELEMENTS (unusable_names); i++)
    if ((bits & (1u << i)) != 0)
      {
        g_autofree char *text = words_unusable (cli_lang (cli), unusable_words[i]);

        cli_out_open (&cli->out, NULL);
        cli_out_str (&cli->out, "rule", unusable_names[i]);
        cli_out_str (&cli->out, "text", text);
        cli_out_close (&cli->out);
      }
  cli_out_array_end (&cli->out);
}

static void
put_count (Cli *cli, const char *file, const DeskCount *count, int plates)
{
  const ImgFindResult *find = &count->find;
  const CoreSegmentResult *found = &find->segments;

  cli_out_open (&cli->out, NULL);
  if (file != NULL)
    cli_out_str (&cli->out, "file", file);
  /* No count is named below the bar; the posterior tells all. */
  if (found->named)
    cli_out_int (&cli->out, "count", found->best);
  else
    cli_out_null (&cli->out, "count");
  put_counts (cli, "posterior", found->posterior);
  put_counts (cli, "likelihood", found->likelihood);
  put_bounds (cli, "boundaries", found->bound, find->bound_x, find->bound_y, found->n_bounds);
  if (plates > 0)
    put_bounds (cli, "given", count->given, count->given_x, count->given_y, count->n_given);
  cli_out_bool (&cli->out, "usable", find->usable);
  put_unusable (cli, find->unusable);
  cli_out_array (&cli->out, "doubt");
  if ((find->doubt & IMG_DOUBT_LINES) != 0)
    cli_out_str (&cli->out, NULL, "lines");
  if ((find->doubt & IMG_DOUBT_TIP) != 0)
    cli_out_str (&cli->out, NULL, "tip");
  if ((find->doubt & IMG_DOUBT_AFTER) != 0)
    cli_out_str (&cli->out, NULL, "after");
  if ((find->doubt & IMG_DOUBT_BEFORE) != 0)
    cli_out_str (&cli->out, NULL, "before");
  cli_out_array_end (&cli->out);
  cli_out_open (&cli->out, "quality");
  cli_out_num (&cli->out, "length_px", find->length_px, 1);
  cli_out_num (&cli->out, "sharpness", find->sharpness, 4);
  cli_out_num (&cli->out, "glare", find->glare, 4);
  cli_out_num (&cli->out, "contrast", find->contrast, 4);
  cli_out_close (&cli->out);
  cli_out_open (&cli->out, "ms");
  cli_out_num (&cli->out, "decode", count->decode_ms, 1);
  cli_out_num (&cli->out, "find", count->find_ms, 1);
  cli_out_close (&cli->out);
  cli_out_close (&cli->out);
}

static CliExit
count_one (Cli *cli, int plates)
{
  const char *file = cli_word (cli, 0);
  const char *text = cli_option (cli, "axis");
  double axis[2 * IMG_STRIP_MAX_MARKS];
  int n = cli_option_points (cli, "axis", axis, IMG_STRIP_MAX_MARKS);
  g_autofree DeskCount *count = g_new0 (DeskCount, 1);
  GError *error = NULL;

  if (file == NULL || text == NULL)
    return cli_usage_error (cli, "FILE and --axis are needed.");
  if (n > IMG_STRIP_MAX_MARKS)
    return cli_refuse ("--axis %s: expected x0,y0,x1,y1 and up to three more marks.", text);
  if (!desk_count_file (file, axis, n, plates, count, &error))
    return cli_fail (error);
  put_count (cli, NULL, count, plates);
  return cli_finish (cli);
}

/* One line of --axes: {"file":…,"axis":[[x,y],…]}. */
static CliExit
count_line (Cli *cli, const char *line, guint number, int plates)
{
  g_autofree DeskCount *count = g_new0 (DeskCount, 1);
  g_autofree char *file = NULL;
  double axis[2 * IMG_STRIP_MAX_MARKS];
  int n = cli_read_axes_line (line, &file, axis, IMG_STRIP_MAX_MARKS);
  GError *error = NULL;

  if (n < 2)
    return cli_refuse ("Line %u of the axes file: expected {\"file\":…,\"axis\":[[x,y],[x,y]]} "
                       "with two to five marks.",
                       number);
  if (!desk_count_file (file, axis, n, plates, count, &error))
    {
      /* One bad picture does not end the run: its line says why. */
      cli_out_open (&cli->out, NULL);
      cli_out_str (&cli->out, "file", file);
      cli_out_str (&cli->out, "error", error->message);
      cli_out_close (&cli->out);
      g_error_free (error);
      return cli_finish (cli);
    }
  put_count (cli, file, count, plates);
  return cli_finish (cli);
}

static CliExit
count_many (Cli *cli, const char *path, int plates)
{
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  CliExit result = CLI_OK;
  GError *error = NULL;

  if (!g_file_get_contents (path, &text, NULL, &error))
    return cli_fail (error);
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i] != NULL && result == CLI_OK; i++)
    if (g_strstrip (lines[i])[0] != '\0')
      result = count_line (cli, lines[i], i + 1, plates);
  return result;
}

/* The finder's templates do not depend on the species yet; a name is checked all the same, so
 * that a wrong one is not passed over in silence. */
static CliExit
check_species (Cli *cli)
{
  const char *species = cli_option (cli, "species");
  g_autoptr (DeskProfiles) profiles = NULL;
  GError *error = NULL;

  if (species == NULL)
    return CLI_OK;
  profiles = desk_profiles_load (&error);
  if (profiles == NULL || desk_profiles_find (profiles, species, &error) == NULL)
    return cli_fail (error);
  return CLI_OK;
}

CliExit
cli_photo_count (Cli *cli)
{
  const char *axes = cli_option (cli, "axes");
  double given = 0, moults = 0;
  CliExit result;

  if (!cli_option_number (cli, "given", &given) || !cli_option_number (cli, "moults", &moults))
    return CLI_USAGE;
  if (cli_option (cli, "given") != NULL &&
      (given < CORE_SEGMENT_MIN || given > CORE_SEGMENT_MAX || given != floor (given)))
    return cli_refuse ("--given is a whole number from %d to %d.", CORE_SEGMENT_MIN,
                       CORE_SEGMENT_MAX);
  if (moults < 0 || moults > CORE_MAX_MOULTS || moults != floor (moults))
    return cli_refuse ("--moults is a whole number from 0 to %d.", CORE_MAX_MOULTS);
  result = check_species (cli);
  if (result != CLI_OK)
    return result;
  if (axes != NULL && cli_word (cli, 0) != NULL)
    return cli_usage_error (cli, "Give a FILE with --axis, or --axes alone.");
  return axes != NULL ? count_many (cli, axes, (int) given) : count_one (cli, (int) given);
}
