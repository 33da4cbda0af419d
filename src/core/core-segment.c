/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-segment.c — the recursion over plates.
 *
 * A row of k plates has ends e0, e1 near the marked ends (normal, sd END_SD)
 * and boundaries b1 < … < b(k-1). Its weight is the product of the odds of a
 * line at each boundary and of the log-normal density of each plate's length
 * in its template. Summed over all rows by the forward recursion, divided by
 * the same sum without evidence, this is how much better k plates explain the
 * picture than no plates at all; the null model has weight 1. All arithmetic
 * is in plain doubles: odds are clipped, so nothing over- or underflows.
 */
#include "core/core-segment.h"
#include "core/core-segment-table.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define N CORE_SEGMENT_N
#define MARGIN CORE_SEGMENT_MARGIN
/* An end lies this near its mark as a rule (sd, samples), and now and then farther off. */
#define END_SD 4.0
#define END_FAR_SD 11.0
#define END_FAR_SHARE .2
#define SPAN (N + 2 * MARGIN + 1)
#define SHORTEST 6       /* samples: no plate is shorter than 2.3 % of the axis */
#define LONGEST 132      /* samples */
#define ODDS_CLIP 12.0   /* log-odds of one line */
#define FIX_HALO 5       /* samples around a fixed boundary where there is no other */
#define REMOVE_HALO 5    /* 2 % of 256 */
#define END_HALO 5       /* 2 %: a line this near a mark is the end itself, no plate follows it */
#define ROWS_FLOOR -60.0 /* log; rows cannot speak more against a count: they were fitted so */
#define TINY 1e-280

typedef struct
{
  int plates;
  CoreSegmentSex sex;
  double weight;      /* among the templates of this count, before a sex is named */
  double last2, last; /* lengths of the last two plates against the middle ones */
} Template;

/* Middle plates 1, the first .95; ours, after what keepers' drawings show; no source. */
static const Template templates[] = {
  { 4, CORE_SEGMENT_SEX_UNKNOWN, .6, 1, 1.02 },  { 4, CORE_SEGMENT_SEX_FEMALE, .4, .97, 1.8 },
  { 5, CORE_SEGMENT_SEX_UNKNOWN, .65, 1, 1.02 }, { 5, CORE_SEGMENT_SEX_FEMALE, .35, .97, 1.8 },
  { 6, CORE_SEGMENT_SEX_UNKNOWN, .25, 1, 1.02 }, { 6, CORE_SEGMENT_SEX_FEMALE, .75, .97, 1.85 },
  { 7, CORE_SEGMENT_SEX_UNKNOWN, .6, 1, 1.02 },  { 7, CORE_SEGMENT_SEX_FEMALE, .2, .97, 1.8 },
  { 7, CORE_SEGMENT_SEX_MALE, .2, .6, .72 },     { 8, CORE_SEGMENT_SEX_UNKNOWN, .25, 1, 1.02 },
  { 8, CORE_SEGMENT_SEX_MALE, .75, .6, .72 },    { 9, CORE_SEGMENT_SEX_UNKNOWN, .65, 1, 1.02 },
  { 9, CORE_SEGMENT_SEX_MALE, .35, .6, .72 },    { 10, CORE_SEGMENT_SEX_UNKNOWN, 1, 1, 1.02 },
};
#define N_TEMPLATES CORE_SEGMENT_TEMPLATES
_Static_assert(sizeof templates / sizeof templates[0] == N_TEMPLATES, "one blank sum a template");
#define SD_INSIDE .14 /* of the log of a length */
#define SD_END .25

/* The prior over counts: none, 4 … 10. Ours, no source: most pictures are of an
 * animal, six and eight are the rule, others are kinds that differ or plates hidden. */
static const double prior_counts[3][CORE_SEGMENT_COUNTS] = {
  { .06, .03, .09, .27, .16, .27, .09, .03 },
  { .06, .05, .13, .50, .16, .06, .03, .01 },
  { .06, .01, .03, .06, .17, .50, .13, .04 },
};

typedef struct
{
  double odds[SPAN]; /* exp of the log-odds of a line at node i; 0 forbids */
  int reach[SPAN];   /* last node that a plate starting here may end at */
  double end[SPAN];  /* weight of an end this far off its mark; 0 elsewhere */
  double start[SPAN];
} Field;

typedef struct
{
  const Template *t;
  double sum; /* over all rows, against the same without evidence */
  double length[CORE_SEGMENT_MAX][LONGEST + 1];
  double forward[CORE_SEGMENT_MAX + 1][SPAN]; /* after j plates, ending at node i */
} Row;

int
core_segment_index (int plates)
{
  if (plates == 0)
    return 0;
  if (plates < CORE_SEGMENT_MIN || plates > CORE_SEGMENT_MAX)
    return -1;
  return plates - CORE_SEGMENT_MIN + 1;
}

double
core_segment_prior (int plates, CoreSegmentSex sex)
{
  int i = core_segment_index (plates);

  return i < 0 ? 0.0 : prior_counts[sex <= CORE_SEGMENT_SEX_MALE ? sex : 0][i];
}

/* Node i is the place (i - MARGIN) / N of the axis; node of a share of the axis. */
static int
node_of (double at)
{
  return (int) floor (at * N + .5) + MARGIN;
}

static double
end_weight (double off)
{
  double near = off / END_SD, far = off / END_FAR_SD;

  return exp (-.5 * near * near) + END_FAR_SHARE * exp (-.5 * far * far);
}

/* The evidence at sample s, which may lie beyond the marks; past all that was seen, the last. */
static double
line_at (const CoreSegmentEvidence *e, int s)
{
  if (s < 0)
    return (double) e->before[s < -MARGIN ? 0 : MARGIN + s];
  if (s >= N)
    return (double) e->after[s >= N + MARGIN ? MARGIN - 1 : s - N];
  return (double) e->line[s];
}

static void
field_init (Field *f, const CoreSegmentEvidence *evidence)
{
  for (int i = 0; i < SPAN; i++)
    {
      int s = i - MARGIN; /* a line at s / N lies between the samples s - 1 and s */
      double l = 0.0;

      if (evidence != NULL)
        l = .5 * (line_at (evidence, s - 1) + line_at (evidence, s));
      if (!(l == l))
        l = 0.0; /* no number says nothing */
      l = l > ODDS_CLIP ? ODDS_CLIP : l < -ODDS_CLIP ? -ODDS_CLIP : l;
      f->odds[i] = exp (l);
      f->reach[i] = SPAN - 1;
      f->start[i] = i <= 2 * MARGIN ? end_weight (s) : 0.0;
      f->end[i] = i >= N ? end_weight (s - N) : 0.0;
    }
}

/* No boundary on a mark: what stands out there is the end of the belly that the keeper marked. */
static void
field_free_ends (Field *f)
{
  for (int i = -END_HALO; i <= END_HALO; i++)
    f->odds[MARGIN + i] = f->odds[MARGIN + N + i] = 0.0;
}

/* False: an edit lies outside the axis, or there are too many. */
static bool
field_edit (Field *f, const CoreSegmentEdits *edits)
{
  if (edits == NULL)
    return true;
  if (edits->n_fixed > CORE_SEGMENT_EDITS || edits->n_removed > CORE_SEGMENT_EDITS)
    return false;
  for (int e = 0; e < edits->n_removed; e++)
    for (int i = 0; i < SPAN; i++)
      if (edits->removed[e] >= 0.0 && edits->removed[e] <= 1.0 &&
          abs (i - node_of (edits->removed[e])) <= REMOVE_HALO)
        f->odds[i] = 0.0;
  for (int e = 0; e < edits->n_fixed; e++)
    {
      int at;

      if (!(edits->fixed[e] > 0.0 && edits->fixed[e] < 1.0))
        return false;
      at = node_of (edits->fixed[e]);
      for (int i = 0; i < SPAN; i++)
        {
          if (i != at && abs (i - at) <= FIX_HALO)
            f->odds[i] = 0.0;
          if (i < at && f->reach[i] > at)
            f->reach[i] = at;
        }
      for (int i = at; i < SPAN; i++)
        f->start[i] = 0.0;
      for (int i = 0; i <= at; i++)
        f->end[i] = 0.0;
    }
  for (int e = 0; e < edits->n_fixed; e++) /* last, so that no halo takes another's place */
    f->odds[node_of (edits->fixed[e])] = exp (ODDS_CLIP);
  return true;
}

/* Mean length of plate j, share of the axis. */
static double
mean_length (const Template *t, int j)
{
  double sum = .95 + (t->plates - 3) + t->last2 + t->last;

  return (j == 0 ? .95 : j == t->plates - 1 ? t->last : j == t->plates - 2 ? t->last2 : 1.0) / sum;
}

static void
row_lengths (Row *row)
{
  const Template *t = row->t;

  for (int j = 0; j < t->plates; j++)
    {
      double mean = log (N * mean_length (t, j));
      double sd = j == 0 || j == t->plates - 1 ? SD_END : SD_INSIDE;

      for (int d = 0; d <= LONGEST; d++)
        {
          double z = d < SHORTEST ? 0.0 : (log ((double) d) - mean) / sd;

          row->length[j][d] = d < SHORTEST ? 0.0 : exp (-.5 * z * z) / (d * sd);
        }
    }
}

static double
row_forward (Row *row, const Field *f)
{
  int k = row->t->plates;
  double sum = 0.0;

  memcpy (row->forward[0], f->start, sizeof f->start);
  for (int j = 0; j < k; j++)
    {
      memset (row->forward[j + 1], 0, sizeof row->forward[j + 1]);
      for (int a = 0; a < SPAN; a++)
        {
          double w = row->forward[j][a];
          int last = a + LONGEST < f->reach[a] ? a + LONGEST : f->reach[a];

          if (w <= TINY)
            continue;
          for (int b = a + SHORTEST; b <= last; b++)
            row->forward[j + 1][b] += w * row->length[j][b - a];
        }
      for (int b = 0; b < SPAN; b++)
        row->forward[j + 1][b] *= j + 1 < k ? f->odds[b] : f->end[b];
    }
  for (int b = 0; b < SPAN; b++)
    sum += row->forward[k][b];
  return sum;
}

/* Without evidence every template must weigh the same: divided by its sum then. */
static void
row_run (Row *row, const Field *field, int template)
{
  row_lengths (row);
  row->sum = row_forward (row, field) / segment_blank[template];
}

double
core_segment_blank (int template)
{
  Field blank;
  Row row = { .t = &templates[template] };

  field_init (&blank, NULL);
  row_lengths (&row);
  return row_forward (&row, &blank);
}

/* Adds the share of each boundary's place to mass[j][i], weighted. */
static void
row_backward (const Row *row, const Field *f, double weight, double mass[][SPAN])
{
  double back[2][SPAN];
  int k = row->t->plates, cur = 0;
  double total = 0.0;

  for (int b = 0; b < SPAN; b++)
    {
      total += row->forward[k][b];
      back[0][b] = f->end[b];
    }
  if (total <= 0.0)
    return;
  for (int j = k - 1; j >= 1; j--, cur = !cur)
    for (int a = 0; a < SPAN; a++)
      {
        int last = a + LONGEST < f->reach[a] ? a + LONGEST : f->reach[a];
        double sum = 0.0;

        for (int b = a + SHORTEST; b <= last; b++)
          sum += row->length[j][b - a] * back[cur][b];
        mass[j - 1][a] += weight * row->forward[j][a] * sum / total;
        back[!cur][a] = sum * f->odds[a];
      }
}

/* The single best row; nodes of its boundaries. */
static double
row_best (const Row *row, const Field *f, int node[])
{
  static const double forbidden = -1e300;
  double best[2][SPAN], value = forbidden;
  short from[CORE_SEGMENT_MAX][SPAN];
  int k = row->t->plates, end = -1;

  for (int i = 0; i < SPAN; i++)
    best[0][i] = f->start[i] > 0.0 ? log (f->start[i]) : forbidden;
  for (int j = 0; j < k; j++)
    {
      double *now = best[j % 2], *next = best[(j + 1) % 2];

      for (int i = 0; i < SPAN; i++)
        next[i] = forbidden;
      for (int a = 0; a < SPAN; a++)
        for (int b = a + SHORTEST; now[a] > forbidden && b <= f->reach[a] && b <= a + LONGEST; b++)
          {
            double w = j + 1 < k ? f->odds[b] : f->end[b];
            double v = w > 0.0 && row->length[j][b - a] > TINY
                         ? now[a] + log (w * row->length[j][b - a])
                         : forbidden;

            if (v > next[b])
              {
                next[b] = v;
                from[j][b] = (short) a;
              }
          }
    }
  for (int i = 0; i < SPAN; i++)
    if (best[k % 2][i] > value)
      {
        value = best[k % 2][i];
        end = i;
      }
  for (int j = k - 1; end >= 0 && j >= 1; j--)
    node[j - 1] = end = from[j][end];
  return value;
}

/* Templates that the named sex allows; their weights among one count's then sum to 1. */
static bool
allowed (const Template *t, const CoreSegmentEdits *edits)
{
  if (t->sex == CORE_SEGMENT_SEX_UNKNOWN || edits == NULL)
    return true;
  return !edits->any_lengths && (edits->sex == CORE_SEGMENT_SEX_UNKNOWN || edits->sex == t->sex);
}

static double
template_weight (const Template *t, const CoreSegmentEdits *edits)
{
  double all = 0.0;

  for (int i = 0; i < N_TEMPLATES; i++)
    if (templates[i].plates == t->plates && allowed (&templates[i], edits))
      all += templates[i].weight;
  return allowed (t, edits) ? t->weight / all : 0.0;
}

/* Where a boundary lies: the best row's node, shifted to the middle of the mass near it. */
static void
place_bounds (const int node[],
              const double mass[][SPAN],
              int n,
              const CoreSegmentEdits *edits,
              CoreSegmentBound *bound)
{
  for (int j = 0; j < n; j++)
    {
      double all = 0.0, near = 0.0, mean = 0.0, spread = 0.0;
      /* A line that lies off the marks is drawn just inside them, each after the last. */
      double low = (j > 0 ? bound[j - 1].at : 0.0) + .5 / N, high = 1.0 - (n - j) * .5 / N;

      for (int i = 0; i < SPAN; i++)
        {
          double d = i - node[j];

          all += mass[j][i];
          spread += mass[j][i] * d * d;
          if (d >= -3 && d <= 3)
            {
              near += mass[j][i];
              mean += mass[j][i] * d;
            }
        }
      bound[j].at = (node[j] - MARGIN + (near > TINY ? mean / near : 0.0)) / N;
      bound[j].at = bound[j].at < low ? low : bound[j].at > high ? high : bound[j].at;
      bound[j].sd = all > TINY ? sqrt (spread / all + .08) / N : 1.0 / N; /* .08: one sample wide */
      bound[j].fixed = false;
      for (int e = 0; edits != NULL && e < edits->n_fixed; e++)
        if (node_of (edits->fixed[e]) == node[j])
          bound[j] = (CoreSegmentBound){ edits->fixed[e], 0.0, true };
    }
}

bool
core_segment_given (const CoreSegmentEvidence *evidence,
                    const CoreSegmentEdits *edits,
                    int plates,
                    CoreSegmentBound *bound)
{
  Field field;
  Row row;
  double mass[CORE_SEGMENT_MAX][SPAN] = { 0 }, best = -1e299;
  int node[CORE_SEGMENT_MAX], best_node[CORE_SEGMENT_MAX];

  field_init (&field, evidence);
  field_free_ends (&field);
  if (core_segment_index (plates) < 1 || !field_edit (&field, edits))
    return false;
  for (int i = 0; i < N_TEMPLATES; i++)
    {
      double weight = templates[i].plates == plates ? template_weight (&templates[i], edits) : 0.0;
      double value;

      if (weight <= 0.0)
        continue;
      row.t = &templates[i];
      row_run (&row, &field, i);
      if (row.sum <= 0.0)
        continue;
      row_backward (&row, &field, weight * row.sum, mass);
      value = log (weight / segment_blank[i]) + row_best (&row, &field, node);
      if (value > best)
        {
          best = value;
          memcpy (best_node, node, sizeof node);
        }
    }
  if (best <= -1e299)
    return false;
  place_bounds (best_node, (const double (*)[SPAN]) mass, plates - 1, edits, bound);
  return true;
}

/* log of the sum over all rows of each count, against the same without evidence; -1e300 where
 * no row fits. False: none fits at all. free_ends: of those without a boundary on a mark. */
static bool
row_logs (const CoreSegmentEvidence *evidence,
          const CoreSegmentEdits *edits,
          bool free_ends,
          double out[])
{
  Field field;
  Row row;
  double sum[CORE_SEGMENT_COUNTS] = { 0 };
  bool any = false;

  field_init (&field, evidence);
  if (free_ends)
    field_free_ends (&field);
  if (!field_edit (&field, edits))
    return false;
  for (int i = 0; i < N_TEMPLATES; i++)
    {
      double weight = template_weight (&templates[i], edits);

      if (weight <= 0.0 ||
          (edits != NULL && edits->count != 0 && edits->count != templates[i].plates))
        continue;
      row.t = &templates[i];
      row_run (&row, &field, i);
      sum[core_segment_index (templates[i].plates)] += weight * row.sum;
    }
  for (int c = 1; c < CORE_SEGMENT_COUNTS; c++)
    {
      out[c] = sum[c] > 0.0 ? log (sum[c]) : -1e300;
      any = any || sum[c] > 0.0;
    }
  return any;
}

/* The count head takes a line on a mark for one more boundary. As far as the rows of a count need
 * such a line, what the head says for it speaks for one plate less. free: rows without one. */
static void
head_logs (const CoreSegmentEvidence *evidence, const double rows[], const double free[], double out[])
{
  double on_mark[CORE_SEGMENT_COUNTS + 1] = { 0 }, top = evidence->count_log[0];

  for (int c = 2; c < CORE_SEGMENT_COUNTS; c++) /* fewer than four plates are not counted */
    if (rows[c] > -1e299)
      on_mark[c] = free[c] < rows[c] ? 1.0 - exp (free[c] - rows[c]) : 0.0;
  for (int c = 0; c < CORE_SEGMENT_COUNTS; c++)
    top = evidence->count_log[c] > top ? evidence->count_log[c] : top;
  for (int c = 0; c < CORE_SEGMENT_COUNTS; c++)
    {
      double own = (1.0 - on_mark[c]) * exp (evidence->count_log[c] - top);

      if (c > 0 && c + 1 < CORE_SEGMENT_COUNTS)
        own += on_mark[c + 1] * exp (evidence->count_log[c + 1] - top);
      out[c] = top + log (own > TINY ? own : TINY);
    }
}

/* Log-likelihood of each count; -1e300 where no row fits. What the picture says is tempered;
 * what the keeper fixed or removed is certain and counts in full. */
static bool
count_logs (const CoreSegmentEvidence *evidence, const CoreSegmentEdits *edits, double out[])
{
  bool moved = edits != NULL && (edits->n_fixed > 0 || edits->n_removed > 0);
  double edited[CORE_SEGMENT_COUNTS], free[CORE_SEGMENT_COUNTS], head[CORE_SEGMENT_COUNTS];
  CoreSegmentEdits rest = edits != NULL ? *edits : (CoreSegmentEdits){ 0 };
  bool silent = true; /* the count head says nothing */

  for (int c = 0; c < CORE_SEGMENT_COUNTS; c++)
    silent = silent && evidence->count_log[c] == 0.0;
  rest.n_fixed = rest.n_removed = 0;
  if ((moved && !row_logs (evidence, edits, false, edited)) ||
      !row_logs (evidence, &rest, false, out) || !row_logs (evidence, &rest, true, free))
    return false;
  head_logs (evidence, out, free, head);
  free[0] = 0.0;
  out[0] = edited[0] = -1e300;
  if (edits == NULL || (edits->count == 0 && edits->n_fixed == 0 && !edits->plates_seen))
    out[0] = edited[0] = 0.0;
  for (int c = 0; c < CORE_SEGMENT_COUNTS; c++)
    {
      double rows = out[c], more = moved ? edited[c] - rows : 0.0;

      if (rows <= -1e299 || (moved && edited[c] <= -1e299))
        {
          out[c] = -1e300;
          continue;
        }
      rows = free[c] > ROWS_FLOOR ? free[c] : ROWS_FLOOR;
      out[c] = more + (silent ? SEGMENT_ROWS_ALONE * rows
                              : (SEGMENT_ROW_WEIGHT * evidence->rows_worth * rows +
                                 SEGMENT_COUNT_WEIGHT * head[c] +
                                 (c == 0 ? SEGMENT_NONE_SHIFT : 0.0)) /
                                  SEGMENT_TEMPERATURE);
    }
  return true;
}

/* Weights exp (log) times prior, as shares. */
static void
to_shares (const double log_like[], const double prior[], double out[])
{
  double top = -1e300, sum = 0.0;

  for (int c = 0; c < CORE_SEGMENT_COUNTS; c++)
    top = log_like[c] > top ? log_like[c] : top;
  for (int c = 0; c < CORE_SEGMENT_COUNTS; c++)
    {
      out[c] =
        log_like[c] > -1e299 ? exp (log_like[c] - top) * (prior != NULL ? prior[c] : 1.0) : 0.0;
      sum += out[c];
    }
  for (int c = 0; c < CORE_SEGMENT_COUNTS; c++)
    out[c] /= sum;
}

static double
strongest_lines (const CoreSegmentEvidence *evidence)
{
  double sum = 0.0;
  int taken[3] = { -100, -100, -100 };

  for (int n = 0; n < 3; n++)
    {
      int top = -1;

      for (int i = 0; i < N; i++)
        {
          bool free = true;

          for (int m = 0; m < n; m++)
            free = free && abs (i - taken[m]) > SHORTEST;
          if (free && (top < 0 || evidence->line[i] > evidence->line[top]))
            top = i;
        }
      taken[n] = top;
      sum += (double) evidence->line[top];
    }
  return sum / 3.0;
}

static void
pick_best_two (CoreSegmentResult *r)
{
  int first = 0, second = -1;

  for (int c = 1; c < CORE_SEGMENT_COUNTS; c++)
    if (r->posterior[c] > r->posterior[first])
      first = c;
  for (int c = 0; c < CORE_SEGMENT_COUNTS; c++)
    if (c != first && (second < 0 || r->posterior[c] > r->posterior[second]))
      second = c;
  r->best = first == 0 ? 0 : first + CORE_SEGMENT_MIN - 1;
  r->second = second == 0 ? 0 : second + CORE_SEGMENT_MIN - 1;
  r->best_p = r->posterior[first];
  r->second_p = r->posterior[second];
}

/* What the chances of the counts say, and the row of plates that is shown for it. */
static void
settle (const CoreSegmentEvidence *evidence, const CoreSegmentEdits *edits, CoreSegmentResult *r)
{
  pick_best_two (r);
  r->named = r->best != 0 &&
             (r->best_p >= CORE_SEGMENT_NAME_AT || (edits != NULL && edits->count == r->best));
  r->shown = r->best;
  for (int c = 1; r->best == 0 && c < CORE_SEGMENT_COUNTS; c++)
    if (r->shown == 0 || r->posterior[c] > r->posterior[core_segment_index (r->shown)])
      r->shown = c + CORE_SEGMENT_MIN - 1;
  if (core_segment_given (evidence, edits, r->shown, r->bound))
    r->n_bounds = r->shown - 1;
  else
    r->shown = r->n_bounds = 0;
}

void
core_segment_mix (const CoreSegmentEvidence *evidence,
                  const CoreSegmentResult *others,
                  int n,
                  double weight,
                  CoreSegmentResult *r)
{
  for (int c = 0; c < CORE_SEGMENT_COUNTS; c++)
    {
      r->posterior[c] *= 1 - n * weight;
      r->likelihood[c] *= 1 - n * weight;
      for (int i = 0; i < n; i++)
        {
          r->posterior[c] += weight * others[i].posterior[c];
          r->likelihood[c] += weight * others[i].likelihood[c];
        }
    }
  settle (evidence, NULL, r);
}

bool
core_segment_run (const CoreSegmentEvidence *evidence,
                  const CoreSegmentEdits *edits,
                  CoreSegmentResult *r)
{
  double log_like[CORE_SEGMENT_COUNTS];
  CoreSegmentSex sex = edits != NULL ? edits->sex : CORE_SEGMENT_SEX_UNKNOWN;

  memset (r, 0, sizeof *r);
  r->strongest = strongest_lines (evidence);
  if (!count_logs (evidence, edits, log_like))
    {
      r->posterior[0] = r->likelihood[0] = r->best_p = 1.0;
      return false;
    }
  to_shares (log_like, NULL, r->likelihood);
  to_shares (log_like, prior_counts[sex <= CORE_SEGMENT_SEX_MALE ? sex : 0], r->posterior);
  settle (evidence, edits, r);
  return true;
}
