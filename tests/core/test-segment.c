/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-segment.c — the recursion over plates: what it must say when the answer
 * is known by construction, and what an edit must do.
 */
#include "core/core-segment.h"
#include "core/core-segment-net.h"
#include "core/core-segment-table.h"
#include "../imaging/fit/net-reference.h"

#include <glib.h>
#include <math.h>
#include <string.h>

static void
evidence_flat (CoreSegmentEvidence *e, double log_odds)
{
  memset (e, 0, sizeof *e);
  for (int i = 0; i < CORE_SEGMENT_N; i++)
    e->line[i] = (float) log_odds;
}

static void
evidence_line (CoreSegmentEvidence *e, double at, double log_odds)
{
  int i = (int) floor (at * CORE_SEGMENT_N);

  for (int k = -1; k <= 0; k++)
    e->line[CLAMP (i + k, 0, CORE_SEGMENT_N - 1)] = (float) log_odds;
}

/* Ends of the plates of an even row, female (last one long) or male (last two short). */
static double
boundary_of (int plates, CoreSegmentSex sex, int j)
{
  double sum = 0, part = 0;

  for (int i = 0; i < plates; i++)
    {
      double len = 1.0;

      if (sex == CORE_SEGMENT_SEX_FEMALE && i == plates - 1)
        len = 1.85;
      if (sex == CORE_SEGMENT_SEX_MALE && i == plates - 2)
        len = .6;
      if (sex == CORE_SEGMENT_SEX_MALE && i == plates - 1)
        len = .72;
      sum += len;
      part += i <= j ? len : 0.0;
    }
  return part / sum;
}

static void
evidence_row (CoreSegmentEvidence *e, int plates, CoreSegmentSex sex, double on, double off)
{
  evidence_flat (e, off);
  for (int j = 0; j < plates - 1; j++)
    evidence_line (e, boundary_of (plates, sex, j), on);
}

static double
sum_of (const double *p)
{
  double sum = 0;

  for (int i = 0; i < CORE_SEGMENT_COUNTS; i++)
    {
      g_assert_cmpfloat (p[i], >=, 0.0);
      sum += p[i];
    }
  return sum;
}

/* Sample i of the whole line, margins and all. */
static double
wide_line (const CoreSegmentEvidence *e, int i)
{
  i -= CORE_SEGMENT_MARGIN;
  if (i < 0)
    return (double) e->before[CORE_SEGMENT_MARGIN + i];
  return (double) (i < CORE_SEGMENT_N ? e->line[i] : e->after[i - CORE_SEGMENT_N]);
}

/* The networks against the same sums in double precision: fit.py table wrote them. */
static void
test_net_reference (void)
{
  g_autofree float *in = g_new (float, CORE_SEGMENT_NET_IN *CORE_SEGMENT_WIDE);

  for (int v = 0; v < (int) G_N_ELEMENTS (net_reference); v++)
    {
      CoreSegmentEvidence e;

      for (int row = 0; row < CORE_SEGMENT_NET_IN; row++)
        for (int at = 0; at < CORE_SEGMENT_WIDE; at++)
          in[row * CORE_SEGMENT_WIDE + at] =
            (float) (sin (.11 * (v + 1) * at + .7 * row) + .3 * sin (.9 * row * at / (v + 2)));
      core_segment_net (in, &e);
      for (int k = 0; k < CORE_SEGMENT_COUNTS; k++)
        g_assert_cmpfloat_with_epsilon (e.count_log[k], net_reference[v].count_log[k], 1e-3);
      g_assert_cmpfloat_with_epsilon (e.rows_worth, net_reference[v].rows_worth, 1e-3);
      for (int i = 0; i < (int) G_N_ELEMENTS (net_reference[v].line); i++)
        g_assert_cmpfloat_with_epsilon (wide_line (&e, 8 * i), net_reference[v].line[i], 1e-3);
    }
}

/* A mirrored picture has its lanes the other way round: the same answer, to the bit. */
static void
test_net_mirrored (void)
{
  static float in[CORE_SEGMENT_NET_IN][CORE_SEGMENT_WIDE],
    other[CORE_SEGMENT_NET_IN][CORE_SEGMENT_WIDE];
  CoreSegmentEvidence e, f;

  for (int row = 0; row < CORE_SEGMENT_NET_IN; row++)
    for (int at = 0; at < CORE_SEGMENT_WIDE; at++)
      in[row][at] = (float) sin (.37 * row * row + .13 * at * (1 + row % 5));
  for (int c = 0; c < 3; c++)
    for (int l = 0; l < CORE_SEGMENT_NET_LANES; l++)
      memcpy (other[(c + 1) * CORE_SEGMENT_NET_LANES - 1 - l], in[c * CORE_SEGMENT_NET_LANES + l],
              sizeof in[0]);
  core_segment_net (in[0], &e);
  core_segment_net (other[0], &f);
  g_assert_cmpmem (&e, sizeof e, &f, sizeof f);
}

static void
test_blank_sums (void)
{
  g_assert_cmpint (G_N_ELEMENTS (segment_blank), ==, CORE_SEGMENT_TEMPLATES);
  for (int i = 0; i < CORE_SEGMENT_TEMPLATES; i++)
    g_assert_cmpfloat (fabs (core_segment_blank (i) / segment_blank[i] - 1.0), <, 1e-9);
}

static void
test_prior_sums (void)
{
  for (int sex = 0; sex < 3; sex++)
    {
      double sum = core_segment_prior (0, (CoreSegmentSex) sex);

      for (int k = CORE_SEGMENT_MIN; k <= CORE_SEGMENT_MAX; k++)
        sum += core_segment_prior (k, (CoreSegmentSex) sex);
      g_assert_cmpfloat (fabs (sum - 1.0), <, 1e-12);
    }
  g_assert_cmpfloat (core_segment_prior (3, CORE_SEGMENT_SEX_UNKNOWN), ==, 0.0);
}

/* Where nothing was seen either way, counts stand to each other as their priors. */
static void
test_says_nothing (void)
{
  CoreSegmentEvidence e;
  CoreSegmentResult r;

  evidence_flat (&e, 0.0);
  e.line[0] = 0.0f;
  g_assert_true (core_segment_run (&e, NULL, &r));
  g_assert_cmpfloat (fabs (sum_of (r.posterior) - 1.0), <, 1e-12);
  for (int k = CORE_SEGMENT_MIN; k <= CORE_SEGMENT_MAX; k++)
    {
      double ratio = r.posterior[core_segment_index (k)] / r.posterior[core_segment_index (6)];
      double want = core_segment_prior (k, 0) / core_segment_prior (6, 0);

      /* a little off: outside the marks there is a small fixed cost */
      g_assert_cmpfloat (fabs (ratio / want - 1.0), <, .2);
    }
  g_assert_false (r.named);
}

static void
test_known_rows (void)
{
  static const struct
  {
    int plates;
    CoreSegmentSex sex;
  } rows[] = { { 6, CORE_SEGMENT_SEX_FEMALE },
               { 8, CORE_SEGMENT_SEX_MALE },
               { 5, 0 },
               { 6, 0 },
               { 7, 0 },
               { 8, 0 },
               { 9, 0 },
               { 10, 0 },
               { 7, CORE_SEGMENT_SEX_MALE } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CoreSegmentEvidence e;
      CoreSegmentResult r;

      evidence_row (&e, rows[i].plates, rows[i].sex, 4.0, -6.0);
      g_assert_true (core_segment_run (&e, NULL, &r));
      g_assert_cmpfloat (fabs (sum_of (r.posterior) - 1.0), <, 1e-12);
      g_assert_cmpfloat (fabs (sum_of (r.likelihood) - 1.0), <, 1e-12);
      g_assert_cmpint (r.best, ==, rows[i].plates);
      g_assert_true (r.named == (r.best_p >= CORE_SEGMENT_NAME_AT));
      g_assert_true (r.named || i > 1); /* six and eight of the usual shape at least */
      g_test_message ("%d plates: p %.3f", rows[i].plates, r.best_p);
      g_assert_cmpint (r.n_bounds, ==, rows[i].plates - 1);
      for (int j = 0; j < r.n_bounds; j++)
        {
          g_assert_cmpfloat (fabs (r.bound[j].at - boundary_of (rows[i].plates, rows[i].sex, j)), <,
                             .006);
          g_assert_cmpfloat (r.bound[j].sd, >, 0.0);
          g_assert_cmpfloat (r.bound[j].sd, <, .01);
        }
    }
}

/* Where the tip was marked on a suture of the tail, the head may count that line; the row that it
 * would need has a boundary on the mark, so that it speaks for one plate less. */
static void
test_line_on_mark (void)
{
  CoreSegmentEvidence e;
  CoreSegmentResult r;

  evidence_row (&e, 7, CORE_SEGMENT_SEX_UNKNOWN, 4.0, -6.0);
  e.line[CORE_SEGMENT_N - 1] = e.after[0] = 6.0f;
  e.rows_worth = .2;
  e.count_log[core_segment_index (7)] = 5.0;
  e.count_log[core_segment_index (8)] = 6.0;
  g_assert_true (core_segment_run (&e, NULL, &r));
  g_assert_cmpint (r.best, ==, 7);
  g_assert_cmpfloat (r.bound[r.n_bounds - 1].at, <, .95);
  /* Without the line on the mark the head is taken at its word. */
  evidence_row (&e, 8, CORE_SEGMENT_SEX_UNKNOWN, 4.0, -6.0);
  e.rows_worth = .2;
  e.count_log[core_segment_index (7)] = 5.0;
  e.count_log[core_segment_index (8)] = 6.0;
  g_assert_true (core_segment_run (&e, NULL, &r));
  g_assert_cmpint (r.best, ==, 8);
}

static void
test_nothing_there (void)
{
  CoreSegmentEvidence e;
  CoreSegmentResult r;

  evidence_flat (&e, -6.0);
  g_assert_true (core_segment_run (&e, NULL, &r));
  g_assert_cmpint (r.best, ==, 0);
  g_assert_cmpfloat (r.best_p, >, .9);
  g_assert_false (r.named);
  g_assert_cmpint (r.shown, >=, CORE_SEGMENT_MIN); /* something to start from */
}

static void
test_vague_is_wide (void)
{
  CoreSegmentEvidence e;
  CoreSegmentResult sharp, vague;

  evidence_row (&e, 6, CORE_SEGMENT_SEX_FEMALE, 4.0, -6.0);
  core_segment_run (&e, NULL, &sharp);
  evidence_line (&e, boundary_of (6, CORE_SEGMENT_SEX_FEMALE, 2), -6.0);
  {
    CoreSegmentBound bound[5];

    g_assert_true (core_segment_given (&e, NULL, 6, bound));
    g_assert_cmpfloat (bound[2].sd, >, 4.0 * sharp.bound[2].sd);
    g_assert_cmpfloat (fabs (bound[2].at - sharp.bound[2].at), <, .05);
  }
  g_assert_true (core_segment_run (&e, NULL, &vague));
  g_assert_cmpfloat (vague.posterior[core_segment_index (6)], <,
                     sharp.posterior[core_segment_index (6)]);
}

static void
test_edits (void)
{
  CoreSegmentEvidence e;
  CoreSegmentResult r;
  CoreSegmentEdits edits = { 0 };
  double lost = boundary_of (8, 0, 3);

  evidence_row (&e, 8, 0, 4.0, -6.0);
  evidence_line (&e, lost, -6.0);
  edits.n_fixed = 1;
  edits.fixed[0] = lost;
  g_assert_true (core_segment_run (&e, &edits, &r));
  g_assert_cmpint (r.best, ==, 8);
  g_assert_true (r.bound[3].fixed);
  g_assert_cmpfloat (r.bound[3].at, ==, lost);
  g_assert_cmpfloat (r.bound[3].sd, ==, 0.0);
  g_assert_cmpfloat (r.posterior[0], ==, 0.0); /* the keeper saw a plate's edge */

  evidence_row (&e, 8, 0, 4.0, -6.0);
  edits = (CoreSegmentEdits){ .n_removed = 1, .removed = { lost } };
  g_assert_true (core_segment_run (&e, &edits, &r));
  for (int j = 0; j < r.n_bounds; j++)
    g_assert_cmpfloat (fabs (r.bound[j].at - lost), >, .015);

  edits = (CoreSegmentEdits){ .count = 6 };
  g_assert_true (core_segment_run (&e, &edits, &r));
  g_assert_cmpint (r.best, ==, 6);
  g_assert_true (r.named);
  g_assert_cmpint (r.n_bounds, ==, 5);

  evidence_flat (&e, 0.0);
  edits = (CoreSegmentEdits){ .sex = CORE_SEGMENT_SEX_MALE, .plates_seen = true };
  g_assert_true (core_segment_run (&e, &edits, &r));
  g_assert_cmpint (r.best, ==, 8);
}

static void
test_all_fixed (void)
{
  for (int plates = 5; plates <= 9; plates++)
    {
      CoreSegmentEvidence e;
      CoreSegmentResult r;
      CoreSegmentEdits edits = { .count = plates, .n_fixed = plates - 1 };

      evidence_flat (&e, -6.0);
      for (int j = 0; j < plates - 1; j++)
        edits.fixed[j] = boundary_of (plates, 0, j);
      g_assert_true (core_segment_run (&e, &edits, &r));
      g_assert_cmpint (r.best, ==, plates);
      for (int j = 0; j < plates - 1; j++)
        g_assert_cmpfloat (r.bound[j].at, ==, edits.fixed[j]);
    }
}

static void
test_impossible (void)
{
  CoreSegmentEvidence e;
  CoreSegmentResult r;
  CoreSegmentBound bound[CORE_SEGMENT_MAX];
  CoreSegmentEdits edits = { .n_fixed = 12 };
  static const double wrong[] = { -0.1, 0.0, 1.0, 1.5, NAN };

  evidence_row (&e, 8, 0, 4.0, -6.0);
  for (int j = 0; j < 12; j++)
    edits.fixed[j] = (j + 1) / 13.0;
  g_assert_false (core_segment_run (&e, &edits, &r));
  g_assert_cmpint (r.shown, ==, 0);
  g_assert_cmpfloat (fabs (sum_of (r.posterior) - 1.0), <, 1e-12);
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      edits = (CoreSegmentEdits){ .n_fixed = 1, .fixed = { wrong[i] } };
      g_assert_false (core_segment_run (&e, &edits, &r));
    }
  edits = (CoreSegmentEdits){ .n_fixed = CORE_SEGMENT_EDITS + 1 };
  g_assert_false (core_segment_run (&e, &edits, &r));
  g_assert_false (core_segment_given (&e, NULL, 3, bound));
  g_assert_false (core_segment_given (&e, NULL, 11, bound));
  g_assert_cmpint (core_segment_index (3), ==, -1);
  g_assert_cmpint (core_segment_index (0), ==, 0);
}

static void
test_given (void)
{
  CoreSegmentEvidence e;
  CoreSegmentBound bound[CORE_SEGMENT_MAX];

  evidence_row (&e, 8, CORE_SEGMENT_SEX_MALE, 4.0, -6.0);
  for (int plates = CORE_SEGMENT_MIN; plates <= CORE_SEGMENT_MAX; plates++)
    {
      g_assert_true (core_segment_given (&e, NULL, plates, bound));
      for (int j = 1; j < plates - 1; j++)
        g_assert_cmpfloat (bound[j].at, >, bound[j - 1].at);
    }
}

/* Hostile numbers in the evidence must not get out as numbers of the answer. */
static void
test_wild_evidence (void)
{
  static const float wild[] = { 1e30f, -1e30f, INFINITY, -INFINITY };

  for (gsize i = 0; i < G_N_ELEMENTS (wild); i++)
    {
      CoreSegmentEvidence e;
      CoreSegmentResult r;

      evidence_flat (&e, -3.0);
      for (int k = 0; k < CORE_SEGMENT_N; k += 17)
        e.line[k] = wild[i];
      core_segment_run (&e, NULL, &r);
      g_assert_cmpfloat (fabs (sum_of (r.posterior) - 1.0), <, 1e-12);
    }
}

static void
test_rerun_same (void)
{
  CoreSegmentEvidence e;
  CoreSegmentResult first, r;

  evidence_row (&e, 8, CORE_SEGMENT_SEX_MALE, 1.0, -3.0);
  core_segment_run (&e, NULL, &first);
  core_segment_run (&e, NULL, &r);
  for (gsize i = 0; i < G_N_ELEMENTS (r.posterior); i++)
    g_assert_cmpfloat (r.posterior[i], ==, first.posterior[i]);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/segment/net-reference", test_net_reference);
  g_test_add_func ("/segment/net-mirrored", test_net_mirrored);
  g_test_add_func ("/segment/blank-sums", test_blank_sums);
  g_test_add_func ("/segment/prior-sums", test_prior_sums);
  g_test_add_func ("/segment/says-nothing", test_says_nothing);
  g_test_add_func ("/segment/known-rows", test_known_rows);
  g_test_add_func ("/segment/line-on-mark", test_line_on_mark);
  g_test_add_func ("/segment/nothing-there", test_nothing_there);
  g_test_add_func ("/segment/vague-is-wide", test_vague_is_wide);
  g_test_add_func ("/segment/edits", test_edits);
  g_test_add_func ("/segment/all-fixed", test_all_fixed);
  g_test_add_func ("/segment/impossible", test_impossible);
  g_test_add_func ("/segment/given", test_given);
  g_test_add_func ("/segment/wild-evidence", test_wild_evidence);
  g_test_add_func ("/segment/rerun-same", test_rerun_same);
  return g_test_run ();
}
