/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-measure.c — marks on a picture to millimetres or to a belly score, and into the journal. */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include "core/core-measure.h"

#define MOST_POINTS 34
#define USUAL_SD 2.0 /* pixels by which a mark may be off */

/* The marks of an option, which has the form of such a list: their number, 0 where they are too
 * many. */
static int
read_points (Cli *cli, const char *name, CorePoint *out, int most)
{
  double v[4 * CORE_OUTLINE_MOST];
  int n = cli_option_points (cli, name, v, MIN (most, 2 * CORE_OUTLINE_MOST));

  for (int i = 0; i < n && n <= most; i++)
    out[i] = (CorePoint){ v[2 * i], v[2 * i + 1] };
  return n <= most ? n : 0;
}

static CliExit
refuse (CoreMeasureStatus status, const char *what)
{
  switch (status)
    {
    case CORE_MEASURE_TOO_FEW:
      return cli_refuse ("%s: too few marks. A length takes two or more, a disc %d to %d, an "
                         "outline three pairs or more.",
                         what, CORE_DISC_MARKS, CORE_DISC_MOST);
    case CORE_MEASURE_SHORT_ARC:
      return cli_refuse (
        "%s: the marks cover less than 120 degrees of the disc. Mark it all round.", what);
    case CORE_MEASURE_NO_CIRCLE:
      return cli_refuse ("%s: these marks lie on no circle.", what);
    case CORE_MEASURE_NO_LENGTH:
    case CORE_MEASURE_OK:
    default:
      return cli_refuse ("%s: the marks lie on one place, or the length is none.", what);
    }
}

typedef struct
{
  CoreScale scale;
  CoreCircle circle;
  gboolean disc;
} Scale;

/* --ruler or --disc with --mm. */
static CliExit
read_scale (Cli *cli, double mark_sd, Scale *out)
{
  const char *ruler = cli_option (cli, "ruler"), *disc = cli_option (cli, "disc");
  CorePoint p[MOST_POINTS];
  CoreMeasureStatus status;
  double mm = NAN;
  int n;

  *out = (Scale){ .disc = disc != NULL };
  if (!cli_option_number (cli, "mm", &mm))
    return CLI_USAGE;
  if ((ruler == NULL) == (disc == NULL) || isnan (mm))
    return cli_usage_error (cli, "Give --ruler or --disc, and --mm: how long it is.");
  n = read_points (cli, ruler != NULL ? "ruler" : "disc", p, MOST_POINTS);
  if (n == 0)
    return cli_refuse ("--disc: expected at most %d marks on its edge.", MOST_POINTS);
  if (ruler != NULL)
    status = core_scale_ruler (p[0], p[1], mm, mark_sd, &out->scale);
  else
    {
      status = core_circle_fit (p, n, mark_sd, &out->circle);
      if (status == CORE_MEASURE_OK)
        status = core_scale_disc (&out->circle, mm, &out->scale);
    }
  return status == CORE_MEASURE_OK ? CLI_OK : refuse (status, ruler != NULL ? "--ruler" : "--disc");
}

/* Writes one entry for --record; *id stays none without it. */
static CliExit
record (Cli *cli, const char *kind, const char *const *pairs, CoreId *id)
{
  const char *name = cli_option (cli, "record");
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSubject) subject = NULL;
  CoreDay day = CORE_DAY_NONE;
  GError *error = NULL;
  CliExit code;

  if (name == NULL)
    return CLI_OK;
  if (!cli_option_past (cli, "day", &day))
    return CLI_USAGE;
  code = cli_open_if_there (cli);
  if (code != CLI_OK)
    return code;
  if (cli->desk == NULL)
    return cli_refuse ("There is no journal to record in. Name one with --journal.");
  subject = desk_find (cli->desk, name, &error);
  if (subject == NULL)
    return cli_fail (error);
  desk_record_async (cli->desk, desk_subject_id (subject), kind, pairs,
                     day != CORE_DAY_NONE ? day : cli->today, CORE_DAY_NONE, -1, NULL, desk_sync_cb,
                     &sync);
  result = desk_sync_wait (&sync);
  return desk_record_finish (cli->desk, result, id, &error) ? CLI_OK : cli_fail (error);
}

static void
put_scale (Cli *cli, const Scale *scale)
{
  cli_out_open (&cli->out, "scale");
  cli_out_num (&cli->out, "mm_per_px", scale->scale.mm_per_px, 6);
  cli_out_num (&cli->out, "sd", scale->scale.mm_per_px * scale->scale.share_sd, 6);
  if (scale->disc)
    {
      cli_out_num (&cli->out, "x", scale->circle.x, 2);
      cli_out_num (&cli->out, "y", scale->circle.y, 2);
      cli_out_num (&cli->out, "r", scale->circle.r, 2);
      cli_out_num (&cli->out, "arc", scale->circle.arc, 1);
      cli_out_num (&cli->out, "flat", scale->circle.flat, 3);
      cli_out_int (&cli->out, "left_out", scale->circle.left_out);
    }
  cli_out_close (&cli->out);
}

static CliExit
measure_line (Cli *cli, double mark_sd)
{
  const char *what = cli_option (cli, "what");
  g_autofree char *what_pair = NULL, *mm_pair = NULL, *sd_pair = NULL;
  char mm[64], sd[64];
  CorePoint line[MOST_POINTS];
  CoreMeasureStatus status;
  CoreId id = { 0 };
  CoreLength length;
  CliExit code;
  Scale scale;
  int n = read_points (cli, "line", line, MOST_POINTS);

  if (cli_option (cli, "record") != NULL && what == NULL)
    return cli_usage_error (cli, "--record needs --what: body, head, pronotum, abdomen or tegmen.");
  code = read_scale (cli, mark_sd, &scale);
  if (code != CLI_OK)
    return code;
  if (n == 0)
    return cli_refuse ("--line: expected at most %d marks.", MOST_POINTS);
  status = core_length (line, n, mark_sd, &scale.scale, &length);
  if (status != CORE_MEASURE_OK)
    return refuse (status, "--line");
  core_number_format (length.mm, 2, mm);
  core_number_format (length.sd, 3, sd);
  what_pair = g_strdup_printf ("what=%s", what);
  mm_pair = g_strdup_printf ("mm=%s", mm);
  sd_pair = g_strdup_printf ("sd=%s", sd);
  code = record (cli, "measured", (const char *const[]){ what_pair, mm_pair, sd_pair, NULL }, &id);
  if (code != CLI_OK)
    return code;
  cli_out_open (&cli->out, NULL);
  cli_out_num (&cli->out, "mm", length.mm, 2);
  cli_out_num (&cli->out, "sd", length.sd, 3);
  put_scale (cli, &scale);
  if (!core_id_is_none (id))
    cli_out_id (&cli->out, "id", id);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

static CliExit
measure_outline (Cli *cli, double mark_sd)
{
  CorePoint p[2 * CORE_OUTLINE_MOST], upper[CORE_OUTLINE_MOST], lower[CORE_OUTLINE_MOST], axis[2];
  int n = read_points (cli, "outline", p, 2 * CORE_OUTLINE_MOST);
  g_autofree char *score = NULL;
  CoreMeasureStatus status;
  CorePlumpness plump;
  CoreId id = { 0 };
  CliExit code;

  if (read_points (cli, "axis", axis, 2) != 2)
    return cli_usage_error (cli,
                            "--outline needs --axis x0,y0,x1,y1: base and tip of the abdomen.");
  if (n == 0)
    return cli_refuse ("--outline: expected at most %d pairs.", CORE_OUTLINE_MOST);
  for (int i = 0; i < n / 2; i++)
    {
      upper[i] = p[2 * i];
      lower[i] = p[2 * i + 1];
    }
  status = core_plumpness (upper, lower, n / 2,
                           hypot (axis[1].x - axis[0].x, axis[1].y - axis[0].y), mark_sd, &plump);
  if (status != CORE_MEASURE_OK)
    return refuse (status, "--outline");
  score = g_strdup_printf ("score=%d", plump.score);
  code = record (cli, "belly", (const char *const[]){ score, NULL }, &id);
  if (code != CLI_OK)
    return code;
  cli_out_open (&cli->out, NULL);
  cli_out_num (&cli->out, "depth", plump.depth, 4);
  cli_out_num (&cli->out, "sd", plump.depth_sd, 4);
  cli_out_int (&cli->out, "score", plump.score);
  cli_out_open (&cli->out, "p");
  for (int i = 1; i <= 5; i++)
    {
      char name[4];

      g_snprintf (name, sizeof name, "%d", i);
      cli_out_num (&cli->out, name, plump.p[i], 4);
    }
  cli_out_close (&cli->out);
  if (!core_id_is_none (id))
    cli_out_id (&cli->out, "id", id);
  cli_out_close (&cli->out);
  return cli_finish (cli);
}

CliExit
cli_photo_measure (Cli *cli)
{
  const char *line = cli_option (cli, "line"), *outline = cli_option (cli, "outline");
  double mark_sd = USUAL_SD;

  if (!cli_option_number (cli, "mark-sd", &mark_sd))
    return CLI_USAGE;
  if ((line == NULL) == (outline == NULL))
    return cli_usage_error (cli, "Give either --line, to measure a length, or --outline.");
  if (!(mark_sd > 0 && mark_sd <= 100))
    return cli_refuse ("--mark-sd is a number of pixels above 0, up to 100.");
  return line != NULL ? measure_line (cli, mark_sd) : measure_outline (cli, mark_sd);
}
