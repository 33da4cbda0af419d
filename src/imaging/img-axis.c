/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-axis.c — a long body that differs from the ground around it; see img-axis.h.
 *
 * The border of the picture says what the ground looks like. What differs is cut
 * at several levels, thin parts (legs, feelers) are taken off, and of each piece
 * that is long enough the middle line is a candidate, both ways round. The finder
 * says along which of them plates are seen best. All thresholds are ours, set on
 * drawn pictures (tests/imaging).
 */
#include "imaging/img-axis.h"

#include <math.h>
#include <string.h>

#include "imaging/img-find.h"

#define GRID IMG_AXIS_GRID
#define CELLS (GRID * GRID)
#define BORDER_SHARE .06 /* of the smaller side: taken for the ground */
#define GROUNDS 3        /* colours of the ground */
#define BINS 40          /* along a body */
#define N_LEVELS 2
#define LEAST_CELLS 24
#define LEAST_LONG 1.35 /* length ÷ width of a body */
#define LEAST_PLATES 1.0
#define LEAST_PART .25 /* of a body: the abdomen */
#define LEG_REACH 3.5  /* cells */
#define LEG_SD .05     /* of the body */
#define MOST_LEGS 3.0  /* log-odds */
#define LONGER 3.0     /* log-odds for e times the length: a plate left out is not seen as missing */
#define PIECES 2       /* the thickest of a cut */
#define CLEAR 7.0      /* log-odds: no other cut is tried */
#define THIN .42 /* of the largest depth: what is thinner is no body */

typedef struct
{
  int width, height, factor;
  float colour[3][CELLS]; /* luma, two differences of colour; 0 … 1 */
  float differs[CELLS];   /* from the ground, in its sds */
  guint8 mask[CELLS];
  float depth[CELLS]; /* cells to the nearest edge of the mask */
  int label[CELLS], queue[CELLS];
} Grid;

typedef struct
{
  double xy[6];
  int n_marks;
} Line;

/* ---- the grid ---- */

static void
cell_of (Grid *grid, const ImgPixels *pixels, int gx, int gy)
{
  int x1 = MIN (pixels->width, (gx + 1) * grid->factor);
  int y1 = MIN (pixels->height, (gy + 1) * grid->factor);
  int skip = MAX (1, grid->factor / 6); /* a few dozen pixels a cell say enough */
  int cell = gy * grid->width + gx, n = 0;
  guint sum[3] = { 0, 0, 0 };
  float r, g, b;

  for (int y = gy * grid->factor; y < y1; y += skip)
    for (int x = gx * grid->factor; x < x1; x += skip, n++)
      for (int c = 0; c < 3; c++)
        sum[c] += img_pixels_row (pixels, y)[3 * (gsize) x + c];
  r = (float) sum[0] / (255.0f * (float) n);
  g = (float) sum[1] / (255.0f * (float) n);
  b = (float) sum[2] / (255.0f * (float) n);
  grid->colour[0][cell] = .3f * r + .6f * g + .1f * b;
  grid->colour[1][cell] = r - g;
  grid->colour[2][cell] = .5f * (r + g) - b;
}

static void
fill_grid (Grid *grid, const ImgPixels *pixels)
{
  grid->factor = (MAX (pixels->width, pixels->height) + GRID - 1) / GRID;
  grid->width = (pixels->width + grid->factor - 1) / grid->factor;
  grid->height = (pixels->height + grid->factor - 1) / grid->factor;
  for (int y = 0; y < grid->height; y++)
    for (int x = 0; x < grid->width; x++)
      cell_of (grid, pixels, x, y);
}

/* ---- the ground ---- */

typedef struct
{
  double mean[3], sd[3], weight;
} Ground;

static gboolean
on_border (const Grid *grid, int cell)
{
  int x = cell % grid->width, y = cell / grid->width;
  int deep = MAX (1, (int) (BORDER_SHARE * MIN (grid->width, grid->height)));

  return x < deep || y < deep || x >= grid->width - deep || y >= grid->height - deep;
}

static double
off_ground (const Grid *grid, int cell, const Ground *ground)
{
  double sum = 0;

  for (int c = 0; c < 3; c++)
    {
      double d = (grid->colour[c][cell] - ground->mean[c]) / ground->sd[c];

      sum += d * d;
    }
  return sum;
}

static int
nearest_ground (const Grid *grid, int cell, const Ground *grounds)
{
  int best = 0;

  for (int k = 1; k < GROUNDS; k++)
    if (grounds[k].weight > 0 && off_ground (grid, cell, &grounds[k]) < off_ground (grid, cell, &grounds[best]))
      best = k;
  return best;
}

/* From the cells of the border that lie nearest to each; a sd below 2 % of the scale would
 * make noise look like an animal. */
static void
refit (const Grid *grid, Ground *grounds)
{
  double sum[GROUNDS][3] = { 0 }, square[GROUNDS][3] = { 0 }, n[GROUNDS] = { 0 };

  for (int cell = 0; cell < grid->width * grid->height; cell++)
    {
      int k;

      if (!on_border (grid, cell))
        continue;
      k = nearest_ground (grid, cell, grounds);
      n[k]++;
      for (int c = 0; c < 3; c++)
        {
          sum[k][c] += grid->colour[c][cell];
          square[k][c] += (double) grid->colour[c][cell] * grid->colour[c][cell];
        }
    }
  for (int k = 0; k < GROUNDS; k++)
    {
      grounds[k].weight = n[k];
      for (int c = 0; n[k] > 0 && c < 3; c++)
        {
          grounds[k].mean[c] = sum[k][c] / n[k];
          grounds[k].sd[c] =
            sqrt (MAX (0, square[k][c] / n[k] - grounds[k].mean[c] * grounds[k].mean[c]));
          grounds[k].sd[c] = MAX (grounds[k].sd[c], c == 0 ? .03 : .02);
        }
    }
}

static void
find_grounds (const Grid *grid, Ground *grounds)
{
  static const double start[GROUNDS] = { .2, .5, .8 };

  for (int k = 0; k < GROUNDS; k++)
    grounds[k] = (Ground){ { start[k], 0, 0 }, { .2, .2, .2 }, 1 };
  for (int round = 0; round < 6; round++)
    refit (grid, grounds);
  /* An animal that reaches over the border is not a ground. */
  for (int k = 0; k < GROUNDS; k++)
    {
      double all = grounds[0].weight + grounds[1].weight + grounds[2].weight;

      if (grounds[k].weight < .08 * all)
        grounds[k].weight = 0;
    }
}

static void
smooth (Grid *grid)
{
  g_autofree float *copy = g_memdup2 (grid->differs, sizeof grid->differs);

  for (int y = 0; y < grid->height; y++)
    for (int x = 0; x < grid->width; x++)
      {
        float sum = 0;
        int n = 0;

        for (int v = MAX (0, y - 1); v <= MIN (grid->height - 1, y + 1); v++)
          for (int u = MAX (0, x - 1); u <= MIN (grid->width - 1, x + 1); u++, n++)
            sum += copy[v * grid->width + u];
        grid->differs[y * grid->width + x] = sum / (float) n;
      }
}

static void
find_difference (Grid *grid)
{
  Ground grounds[GROUNDS];

  find_grounds (grid, grounds);
  for (int cell = 0; cell < grid->width * grid->height; cell++)
    {
      double least = INFINITY;

      for (int k = 0; k < GROUNDS; k++)
        if (grounds[k].weight > 0)
          least = MIN (least, off_ground (grid, cell, &grounds[k]));
      grid->differs[cell] = (float) MIN (30, sqrt (MIN (least, 900)));
    }
  smooth (grid);
}

/* The cut that tells two groups apart best (Otsu 1979), in 64 steps. */
static double
best_cut (const Grid *grid)
{
  double count[64] = { 0 }, total = 0, sum = 0, n0 = 0, s0 = 0, best = -1, cut = 3;
  int cells = grid->width * grid->height;

  for (int cell = 0; cell < cells; cell++)
    count[MIN (63, (int) (grid->differs[cell] * 2.1))]++;
  for (int i = 0; i < 64; i++)
    {
      total += count[i];
      sum += i * count[i];
    }
  for (int i = 0; i < 63; i++)
    {
      double apart, n1;

      n0 += count[i];
      s0 += i * count[i];
      n1 = total - n0;
      if (n0 <= 0 || n1 <= 0)
        continue;
      apart = s0 / n0 - (sum - s0) / n1;
      if (n0 * n1 * apart * apart > best)
        {
          best = n0 * n1 * apart * apart;
          cut = (i + 1) / 2.1;
        }
    }
  return cut;
}

/* ---- bodies ---- */

/* Cells to the edge by two passes of steps of 1 and √2 (Rosenfeld & Pfaltz 1966). */
static void
find_depth (Grid *grid)
{
  int w = grid->width, h = grid->height;

  for (int i = 0; i < w * h; i++)
    grid->depth[i] = grid->mask[i] ? 1e6f : 0;
  for (int pass = 0; pass < 2; pass++)
    for (int k = 0; k < w * h; k++)
      {
        int i = pass == 0 ? k : w * h - 1 - k, x = i % w, y = i / w, s = pass == 0 ? -1 : 1;
        float d = grid->depth[i];

        if (d <= 0)
          continue;
        /* Beyond the picture there is no animal to be seen. */
        d = MIN (d, x + s < 0 || x + s >= w ? 1 : grid->depth[i + s] + 1);
        d = MIN (d, y + s < 0 || y + s >= h ? 1 : grid->depth[i + s * w] + 1);
        if (y + s >= 0 && y + s < h)
          {
            if (x > 0)
              d = MIN (d, grid->depth[i + s * w - 1] + 1.414f);
            if (x < w - 1)
              d = MIN (d, grid->depth[i + s * w + 1] + 1.414f);
          }
        grid->depth[i] = d;
      }
}

/* Fills the piece around `from` where `test` is at least `least`; returns its cells in queue. */
static int
flood (Grid *grid, int from, const float *test, float least, int label)
{
  int n = 0, w = grid->width, h = grid->height;

  grid->label[from] = label;
  grid->queue[n++] = from;
  for (int i = 0; i < n; i++)
    {
      int x = grid->queue[i] % w, y = grid->queue[i] / w;
      const int next[4] = { x > 0 ? grid->queue[i] - 1 : -1, x < w - 1 ? grid->queue[i] + 1 : -1,
                            y > 0 ? grid->queue[i] - w : -1, y < h - 1 ? grid->queue[i] + w : -1 };

      for (int k = 0; k < 4; k++)
        if (next[k] >= 0 && grid->label[next[k]] != label && test[next[k]] >= least)
          {
            grid->label[next[k]] = label;
            grid->queue[n++] = next[k];
          }
    }
  return n;
}

/* The deepest cell, the middle of the picture a little before its edge. */
static int
deepest (const Grid *grid)
{
  double best = 0;
  int at = -1;

  for (int i = 0; i < grid->width * grid->height; i++)
    {
      double u = 2. * (i % grid->width) / grid->width - 1;
      double v = 2. * (double) (i / grid->width) / grid->height - 1;
      double value = grid->depth[i] * (1 - .25 * (u * u + v * v));

      if (grid->label[i] == 0 && value > best)
        {
          best = value;
          at = i;
        }
    }
  return at;
}

typedef struct
{
  double x, y, ux, uy; /* middle and direction */
  double lo, hi;       /* along, cells */
  double mid[BINS], half[BINS]; /* across: middle and half width */
  int legs[BINS];               /* cells close beside it that differ, too */
} Body;

static void
direction_of (const Grid *grid, const int *cells, int n, Body *body)
{
  double xx = 0, yy = 0, xy = 0, turn;

  body->x = body->y = 0;
  for (int i = 0; i < n; i++)
    {
      body->x += (double) (cells[i] % grid->width) / n;
      body->y += (double) (cells[i] / grid->width) / n;
    }
  for (int i = 0; i < n; i++)
    {
      double dx = cells[i] % grid->width - body->x, dy = (double) (cells[i] / grid->width) - body->y;

      xx += dx * dx;
      yy += dy * dy;
      xy += dx * dy;
    }
  turn = .5 * atan2 (2 * xy, xx - yy);
  body->ux = cos (turn);
  body->uy = sin (turn);
}

static void
profile_of (const Grid *grid, const int *cells, int n, Body *body)
{
  double sum[BINS] = { 0 }, count[BINS] = { 0 }, step;

  body->lo = INFINITY;
  body->hi = -INFINITY;
  for (int i = 0; i < n; i++)
    {
      double along = (cells[i] % grid->width - body->x) * body->ux +
                     ((double) (cells[i] / grid->width) - body->y) * body->uy;

      body->lo = MIN (body->lo, along - .5);
      body->hi = MAX (body->hi, along + .5);
    }
  step = (body->hi - body->lo) / BINS;
  for (int i = 0; i < n; i++)
    {
      double dx = cells[i] % grid->width - body->x, dy = (double) (cells[i] / grid->width) - body->y;
      int bin = CLAMP ((int) ((dx * body->ux + dy * body->uy - body->lo) / step), 0, BINS - 1);

      sum[bin] += dy * body->ux - dx * body->uy;
      count[bin]++;
    }
  for (int i = 0; i < BINS; i++)
    {
      body->mid[i] = count[i] > 0 ? sum[i] / count[i] : 0;
      body->half[i] = .5 * count[i] / step;
    }
}

/* What was thinned off close beside the body: most of it legs. The body's cells have the mask 3. */
static void
legs_of (const Grid *grid, Body *body)
{
  double step = (body->hi - body->lo) / BINS;

  memset (body->legs, 0, sizeof body->legs);
  for (int i = 0; i < grid->width * grid->height; i++)
    {
      double dx = i % grid->width - body->x, dy = (double) (i / grid->width) - body->y;
      int bin = (int) floor ((dx * body->ux + dy * body->uy - body->lo) / step);
      double across;

      if (grid->mask[i] == 0 || grid->mask[i] == 3 || bin < 0 || bin >= BINS)
        continue;
      across = fabs (dy * body->ux - dx * body->uy - body->mid[bin]) - body->half[bin];
      if (across > .5 && across < LEG_REACH)
        body->legs[bin]++;
    }
}

/* Just behind the hind legs, as a share of the body, coming from the tip; -1 = no legs seen. */
static double
behind_legs (const Body *body, gboolean tip_first)
{
  for (int k = BINS / 6; k < BINS; k++)
    {
      int bin = tip_first ? k : BINS - 1 - k;

      if (body->legs[bin] >= 2)
        return (bin + (tip_first ? 0 : 1)) / (double) BINS;
    }
  return -1;
}

/* Upright pixels of a share of the body, 0 … 1. */
static void
body_point (const Grid *grid, const Body *body, double share, double *xy)
{
  double at = CLAMP (share * BINS - .5, 0, BINS - 1), t;
  int i = MIN ((int) at, BINS - 2);
  double along = body->lo + share * (body->hi - body->lo), across;

  t = at - i;
  across = body->mid[i] * (1 - t) + body->mid[i + 1] * t;
  xy[0] = (body->x + along * body->ux - across * body->uy + .5) * grid->factor - .5;
  xy[1] = (body->y + along * body->uy + across * body->ux + .5) * grid->factor - .5;
}

static void
line_between (const Grid *grid, const ImgPixels *pixels, const Body *body, double from, double to, Line *line)
{
  double chord, off;

  line->n_marks = 3;
  body_point (grid, body, from, line->xy);
  body_point (grid, body, .5 * (from + to), line->xy + 2);
  body_point (grid, body, to, line->xy + 4);
  for (int i = 0; i < 3; i++)
    {
      line->xy[2 * i] = CLAMP (line->xy[2 * i], 0, pixels->width - 1);
      line->xy[2 * i + 1] = CLAMP (line->xy[2 * i + 1], 0, pixels->height - 1);
    }
  chord = hypot (line->xy[4] - line->xy[0], line->xy[5] - line->xy[1]);
  off = hypot (line->xy[2] - .5 * (line->xy[0] + line->xy[4]),
               line->xy[3] - .5 * (line->xy[1] + line->xy[5]));
  if (off < .03 * chord)
    {
      line->n_marks = 2;
      memcpy (line->xy + 2, line->xy + 4, 2 * sizeof (double));
    }
}

/* ---- choosing ---- */

typedef struct
{
  const ImgPixels *pixels;
  ImgAxisGuess *best;
  ImgFindResult *found;
  ImgStrip *strip;
  ImgStopFunc should_stop;
  gpointer data;
  double score; /* of the best: its plates, its legs, its length */
} Search;

/* Log-odds of plates against none, before the prior over counts. */
static double
plates_along (Search *search, const Line *line)
{
  ImgFindOptions options = { .should_stop = search->should_stop, .stop_data = search->data };
  double none;

  if (img_find_segments (search->pixels, line->xy, line->n_marks, &options, search->found,
                         search->strip) != IMG_STRIP_OK)
    return -INFINITY;
  none = CLAMP (search->found->segments.likelihood[0], 1e-9, 1 - 1e-9);
  return log ((1 - none) / none);
}

static double
length_of (const Line *line)
{
  double length = 0;

  for (int i = 0; i + 1 < line->n_marks; i++)
    length += hypot (line->xy[2 * i + 2] - line->xy[2 * i], line->xy[2 * i + 3] - line->xy[2 * i + 1]);
  return length;
}

/* A base that does not lie behind the hind legs needs the more plates to speak for it. */
static double
off_legs (const Body *body, const double *ends)
{
  double legs = behind_legs (body, ends[1] < ends[0]);
  double off = legs < 0 ? 0 : (ends[0] - legs) / LEG_SD;

  return MIN (MOST_LEGS, .5 * off * off);
}

/* The line over a part of the body, from one share to another; TRUE when it is the best so far. */
static gboolean
try_part (Search *search, const Grid *grid, const Body *body, const double *ends)
{
  Line line;
  double plates, score, longest = MAX (search->pixels->width, search->pixels->height);

  if (fabs (ends[1] - ends[0]) < LEAST_PART)
    return FALSE;
  line_between (grid, search->pixels, body, ends[0], ends[1], &line);
  plates = plates_along (search, &line);
  score = plates - off_legs (body, ends) + LONGER * log (length_of (&line) / longest);
  if (plates < LEAST_PLATES || score <= search->score)
    return FALSE;
  search->score = score;
  search->best->plates = plates;
  search->best->n_marks = line.n_marks;
  memcpy (search->best->xy, line.xy, sizeof line.xy);
  return TRUE;
}

/* Moves the base, then the tip, by less and less as long as more plates are seen. */
static void
refine (Search *search, const Grid *grid, const Body *body, double *ends)
{
  for (double step = .06; step > .02; step /= 2)
    for (int move = 0; move < 4; move++)
      {
        double tried[2] = { ends[0], ends[1] };

        tried[move / 2] = CLAMP (tried[move / 2] + (move % 2 == 0 ? step : -step), 0, 1);
        if (try_part (search, grid, body, tried))
          memcpy (ends, tried, sizeof tried);
      }
}

/* A body seen from below is an abdomen, and before it most often the breast with the legs: its
 * tip is one end of the body, its base the other or somewhere between. */
static void
try_body (Search *search, const Grid *grid, const int *cells, int n)
{
  Body body;
  double widest = 0, best[2];
  gboolean better = FALSE;

  direction_of (grid, cells, n, &body);
  profile_of (grid, cells, n, &body);
  for (int i = 0; i < BINS; i++)
    widest = MAX (widest, body.half[i]);
  if (body.hi - body.lo < LEAST_LONG * 2 * widest)
    return;
  legs_of (grid, &body);
  for (int way = 0; way < 2; way++)
    for (double part = 1 + .15; part >= LEAST_PART; part -= .15)
      {
        double ends[2] = { way ? part : 1 - part, way ? .015 : .985 };

        if (part > 1) /* first of all where the legs say */
          ends[0] = behind_legs (&body, way);
        if (ends[0] < 0)
          continue;
        if (try_part (search, grid, &body, ends))
          {
            better = TRUE;
            memcpy (best, ends, sizeof ends);
          }
      }
  if (better)
    refine (search, grid, &body, best);
}

/* The rim that the thinning took off comes back: cells of the mask close to the piece's core, whose
 * mask is 2. They are put in queue and get the mask 3. */
static int
grow_back (Grid *grid, double thin)
{
  int reach = (int) ceil (thin), kept = 0;

  for (int i = 0; i < grid->width * grid->height; i++)
    {
      int x = i % grid->width, y = i / grid->width;
      gboolean near = FALSE;

      for (int v = MAX (0, y - reach); v <= MIN (grid->height - 1, y + reach) && !near; v++)
        for (int u = MAX (0, x - reach); u <= MIN (grid->width - 1, x + reach) && !near; u++)
          near = grid->mask[v * grid->width + u] == 2 && hypot (u - x, v - y) <= thin;
      if (near && grid->mask[i] != 0)
        grid->queue[kept++] = i;
    }
  for (int i = 0; i < kept; i++)
    grid->mask[grid->queue[i]] = 3;
  return kept;
}

/* The thickest pieces of what differs by more than the cut, without their thin parts. */
static void
try_cut (Search *search, Grid *grid, double cut)
{
  int cells = grid->width * grid->height;

  memset (grid->label, 0, sizeof grid->label);
  for (int i = 0; i < cells; i++)
    grid->mask[i] = grid->differs[i] >= cut;
  find_depth (grid);
  for (int piece = 1; piece <= PIECES; piece++)
    {
      int from = deepest (grid), n;
      float thin;

      if (from < 0)
        return;
      thin = THIN * grid->depth[from];
      n = flood (grid, from, grid->depth, MAX (1, thin), piece);
      for (int i = 0; i < cells; i++)
        grid->mask[i] = grid->mask[i] != 0;
      for (int i = 0; i < n; i++)
        grid->mask[grid->queue[i]] = 2;
      n = grow_back (grid, thin);
      for (int i = 0; i < n; i++)
        grid->label[grid->queue[i]] = piece;
      if (n >= LEAST_CELLS)
        try_body (search, grid, grid->queue, n);
    }
}

gboolean
img_axis_suggest (const ImgPixels *pixels,
                  ImgAxisGuess *out,
                  ImgStopFunc should_stop,
                  gpointer data)
{
  static const double levels[N_LEVELS] = { 1, .65 };
  g_autofree Grid *grid = g_new (Grid, 1);
  g_autofree ImgFindResult *found = g_new (ImgFindResult, 1);
  g_autofree ImgStrip *strip = g_new (ImgStrip, 1);
  Search search = { pixels, out, found, strip, should_stop, data, -INFINITY };
  double cut;

  *out = (ImgAxisGuess){ 0 };
  fill_grid (grid, pixels);
  find_difference (grid);
  cut = best_cut (grid);
  for (int i = 0; i < N_LEVELS && out->plates < CLEAR; i++)
    {
      if (should_stop != NULL && should_stop (data))
        {
          *out = (ImgAxisGuess){ 0 };
          return FALSE;
        }
      try_cut (&search, grid, cut * levels[i]);
    }
  return out->n_marks > 0;
}
