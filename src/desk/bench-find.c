/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-find.c — the finder in a worker, and the lines as the keeper has them.
 *
 * After an edit only the recursion runs again (under a frame); the picture is
 * read anew only when the axis moved. A search that was overtaken is told to
 * stop, and its result is thrown away by its serial number.
 *
 * A count that would be called sure along marks that the keeper set gets a second
 * look behind the first, with either end further out and further in: four readings
 * more, for which the lines do not wait. */
#include "desk/bench-private.h"

#include <math.h>
#include <string.h>

#define STRIP_ROWS 512
/* Lines of one picture are at least this share of the axis apart. */
#define LEAST_GAP .004

enum
{
  VERB_MOVE_LINE = 100
};

/* ---- the worker ---- */

typedef struct
{
  ImgPixels *pixels; /* shares the bytes */
  double axis[2 * IMG_STRIP_MAX_MARKS];
  int n_marks;
  int ends;        /* that are moved out and in: in the first look those that are the program's own */
  gboolean second; /* look: `found` and `strip` are those of the first */
  guint serial;
  gint *stop; /* counted */
  ImgFindResult *found;
  ImgStrip *strip;
} Search;

static void
search_free (gpointer data)
{
  Search *self = data;

  img_pixels_free (self->pixels);
  g_atomic_rc_box_release (self->stop);
  g_free (self->found);
  g_free (self->strip);
  g_free (self);
}

static gboolean
should_stop (gpointer data)
{
  return g_atomic_int_get ((gint *) data) != 0;
}

static void
search_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Search *search = data;
  ImgFindOptions options = { .should_stop = should_stop, .stop_data = search->stop };

  if (!search->second)
    img_find_segments (search->pixels, search->axis, search->n_marks, &options, search->found, search->strip);
  if (search->ends != 0)
    img_find_unsure_ends (search->pixels, search->axis, search->n_marks, &options, search->ends, search->found,
                          search->strip);
  g_task_return_boolean (task, TRUE);
}

static void found_cb (GObject *source, GAsyncResult *result, gpointer data);

/* Of the axis as it is; NULL where there is none. */
static Search *
search_new (BenchModel *self)
{
  Search *search = g_new0 (Search, 1);

  search->n_marks = bench_axis (&self->doc, search->axis);
  if (search->n_marks == 0)
    {
      g_free (search);
      return NULL;
    }
  search->pixels = img_pixels_copy (self->pixels);
  search->serial = self->serial;
  return search;
}

static void
search_start (BenchModel *self, Search *search)
{
  g_autoptr (GTask) task = g_task_new (NULL, NULL, found_cb, g_object_ref (self));

  self->stop = g_atomic_rc_box_new0 (gint);
  search->stop = g_atomic_rc_box_acquire (self->stop);
  g_task_set_task_data (task, search, search_free);
  g_task_run_in_thread (task, search_thread);
}

/* Ends of the program's own are mixed in already; and what is not sure stays so. */
static void
look_again (BenchModel *self)
{
  Search *search;

  if (self->found->status != IMG_STRIP_OK || !self->found->segments.named || self->doc.placed != 0)
    return;
  search = search_new (self);
  search->second = TRUE;
  search->ends = IMG_FIND_BASE | IMG_FIND_TIP;
  search->found = g_memdup2 (self->found, sizeof *self->found);
  search->strip = g_memdup2 (self->strip, sizeof *self->strip);
  search_start (self, search);
}

static void
found_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (BenchModel) self = data;
  Search *search = g_task_get_task_data (G_TASK (result));

  if (search->serial != self->serial || self->desk == NULL)
    return;
  g_clear_pointer (&self->stop, g_atomic_rc_box_release);
  g_free (self->found);
  self->found = g_steal_pointer (&search->found);
  self->as_found = self->found->segments;
  if (!search->second && self->found->status == IMG_STRIP_OK)
    self->strip = g_steal_pointer (&search->strip);
  if (!search->second || !self->doc.confirmed) /* lines that were gone on with stay */
    bench_lines_from_found (self);
  bench_rerun (self);
  if (!search->second)
    look_again (self);
  bench_changed (self);
}

void
bench_find_stop (BenchModel *self)
{
  self->serial++;
  if (self->stop != NULL)
    g_atomic_int_set (self->stop, 1);
  g_clear_pointer (&self->stop, g_atomic_rc_box_release);
}

void
bench_axis_changed (BenchModel *self)
{
  Search *search;

  bench_find_stop (self);
  g_clear_pointer (&self->strip, g_free);
  g_clear_pointer (&self->found, g_free);
  g_clear_pointer (&self->shown, img_pixels_free);
  search = self->pixels != NULL ? search_new (self) : NULL;
  if (search == NULL)
    return;
  search->ends = self->doc.placed;
  search->found = g_new0 (ImgFindResult, 1);
  search->strip = g_new0 (ImgStrip, 1);
  search_start (self, search);
}

gboolean
bench_model_finding (BenchModel *self)
{
  return self->stop != NULL && self->found == NULL;
}

gboolean
bench_model_checking (BenchModel *self)
{
  return self->stop != NULL && self->found != NULL;
}

/* ---- lines and the recursion ---- */

static void
take_bounds (BenchDoc *doc, const CoreSegmentBound *bounds, int n)
{
  doc->n_lines = MIN (n, BENCH_MAX_BOUNDARIES);
  for (int i = 0; i < doc->n_lines; i++)
    doc->line[i] = (BenchLine){ bounds[i].at, bounds[i].sd, bounds[i].fixed };
}

void
bench_lines_from_found (BenchModel *self)
{
  const CoreSegmentResult *result;

  if (self->found == NULL || self->found->status != IMG_STRIP_OK || self->doc.edited)
    return;
  result = &self->found->segments;
  /* Nothing is proposed for a picture that cannot carry a count. */
  take_bounds (&self->doc, result->bound, self->found->usable ? result->n_bounds : 0);
}

static CoreSegmentEdits
edits_of (const BenchDoc *doc)
{
  CoreSegmentEdits edits = { 0 };

  for (int i = 0; i < doc->n_lines && edits.n_fixed < CORE_SEGMENT_EDITS; i++)
    if (doc->line[i].by_keeper)
      edits.fixed[edits.n_fixed++] = doc->line[i].at;
  edits.n_removed = doc->n_removed;
  memcpy (edits.removed, doc->removed, sizeof edits.removed);
  return edits;
}

/* The chances of the counts under what the keeper settled. */
void
bench_rerun (BenchModel *self)
{
  CoreSegmentEdits edits = edits_of (&self->doc);

  if (self->found == NULL || self->found->status != IMG_STRIP_OK)
    return;
  if (edits.n_fixed == 0 && edits.n_removed == 0)
    self->found->segments = self->as_found;
  else
    core_segment_run (&self->found->evidence, &edits, &self->found->segments);
}

/* The others may give way to what the keeper settled, if a row of so many plates fits it. */
static void
reset_others (BenchModel *self, int plates)
{
  CoreSegmentEdits edits = edits_of (&self->doc);
  CoreSegmentBound bounds[CORE_SEGMENT_MAX];

  if (self->found != NULL && self->found->status == IMG_STRIP_OK && plates >= CORE_SEGMENT_MIN &&
      plates <= CORE_SEGMENT_MAX &&
      core_segment_given (&self->found->evidence, &edits, plates, bounds))
    take_bounds (&self->doc, bounds, plates - 1);
}

static void
lines_edited (BenchModel *self)
{
  self->doc.edited = TRUE;
  self->doc.confirmed = FALSE;
  reset_others (self, self->doc.n_lines + 1);
  bench_rerun (self);
  bench_changed (self);
}

/* ---- geometry ---- */

/* Before the strip is there: straight between the marks, as wide as an abdomen is (ours: half
 * width an eighth of the length). */
static void
rough_line (const BenchDoc *doc, double at, BenchBoundary *out)
{
  double xy[2 * IMG_STRIP_MAX_MARKS] = { 0 }, leg, left, total = 0;
  int n = bench_axis (doc, xy), i = 0;
  double nx = -(xy[2 * n - 1] - xy[1]) / 8, ny = (xy[2 * n - 2] - xy[0]) / 8;

  for (int k = 0; k + 1 < n; k++)
    total += hypot (xy[2 * k + 2] - xy[2 * k], xy[2 * k + 3] - xy[2 * k + 1]);
  left = at * total;
  while ((leg = hypot (xy[2 * i + 2] - xy[2 * i], xy[2 * i + 3] - xy[2 * i + 1])) < left && i + 2 < n)
    {
      left -= leg;
      i++;
    }
  left = leg > 0 ? MIN (1, left / leg) : 0;
  out->mid = (CorePoint){ xy[2 * i] + (xy[2 * i + 2] - xy[2 * i]) * left,
                          xy[2 * i + 1] + (xy[2 * i + 3] - xy[2 * i + 1]) * left };
  out->left = (CorePoint){ out->mid.x - nx, out->mid.y - ny };
  out->right = (CorePoint){ out->mid.x + nx, out->mid.y + ny };
}

static void
strip_line (const ImgStrip *strip, double at, BenchBoundary *out)
{
  double left[2], right[2];

  img_strip_point (strip, at, &out->mid.x, &out->mid.y);
  img_strip_across (strip, at, left, right);
  out->left = (CorePoint){ left[0], left[1] };
  out->right = (CorePoint){ right[0], right[1] };
}

gsize
bench_model_boundaries (BenchModel *self, BenchBoundary *out, gsize max)
{
  const BenchDoc *doc = &self->doc;
  gsize n = (gsize) doc->n_lines;

  if (bench_axis (doc, (double[2 * IMG_STRIP_MAX_MARKS]){ 0 }) == 0)
    return 0;
  for (gsize i = 0; i < n && i < max; i++)
    {
      out[i] = (BenchBoundary){ .at = doc->line[i].at,
                                .sd = doc->line[i].sd,
                                .by_keeper = doc->line[i].by_keeper };
      if (self->strip != NULL)
        strip_line (self->strip, doc->line[i].at, &out[i]);
      else
        rough_line (doc, doc->line[i].at, &out[i]);
    }
  return MIN (n, max);
}

double
bench_model_at_of (BenchModel *self, CorePoint point)
{
  double best = INFINITY;
  double at = 0;

  for (int i = 0; i <= IMG_STRIP_N && self->doc.has[BENCH_MARK_BASE] && self->doc.has[BENCH_MARK_TIP];
       i++)
    {
      BenchBoundary line;
      double share = (double) i / IMG_STRIP_N;
      double distance;

      if (self->strip != NULL)
        img_strip_point (self->strip, share, &line.mid.x, &line.mid.y);
      else
        rough_line (&self->doc, share, &line);
      distance = hypot (line.mid.x - point.x, line.mid.y - point.y);
      if (distance < best)
        {
          best = distance;
          at = share;
        }
    }
  return at;
}

/* ---- the keeper's edits ---- */

/* Free room beside the neighbours of line `index`; -1 for a new one at `at`. */
static double
between_neighbours (const BenchDoc *doc, int index, double at)
{
  double low = 0, high = 1;

  for (int i = 0; i < doc->n_lines; i++)
    {
      if (i < index)
        low = doc->line[i].at;
      if (i > index)
        {
          high = doc->line[i].at;
          break;
        }
    }
  low += LEAST_GAP;
  high -= LEAST_GAP;
  return low > high ? (low + high) / 2 : CLAMP (at, low, high);
}

void
bench_model_move_boundary (BenchModel *self, gsize index, double at)
{
  BenchDoc *doc = &self->doc;
  int i = (int) index;

  if (index >= (gsize) doc->n_lines || !isfinite (at))
    return;
  at = between_neighbours (doc, i, at);
  if (at == doc->line[i].at && doc->line[i].by_keeper)
    return;
  bench_touch (self, VERB_MOVE_LINE, i);
  doc->line[i] = (BenchLine){ at, 0, TRUE };
  lines_edited (self);
}

gsize
bench_model_add_boundary (BenchModel *self, double at)
{
  BenchDoc *doc = &self->doc;
  int i = 0;

  if (doc->n_lines == BENCH_MAX_BOUNDARIES || !isfinite (at))
    return (gsize) doc->n_lines;
  at = CLAMP (at, LEAST_GAP, 1 - LEAST_GAP);
  while (i < doc->n_lines && doc->line[i].at < at)
    i++;
  bench_touch (self, 0, 0);
  memmove (&doc->line[i + 1], &doc->line[i], (gsize) (doc->n_lines - i) * sizeof doc->line[0]);
  doc->line[i] = (BenchLine){ at, 0, TRUE };
  doc->n_lines++;
  /* What was removed there is back. */
  for (int k = doc->n_removed - 1; k >= 0; k--)
    if (fabs (doc->removed[k] - at) < .03)
      doc->removed[k] = doc->removed[--doc->n_removed];
  lines_edited (self);
  for (i = 0; i < doc->n_lines; i++)
    if (doc->line[i].by_keeper && fabs (doc->line[i].at - at) < 1e-9)
      break;
  return (gsize) i;
}

void
bench_model_remove_boundary (BenchModel *self, gsize index)
{
  BenchDoc *doc = &self->doc;

  if (index >= (gsize) doc->n_lines)
    return;
  bench_touch (self, 0, 0);
  if (doc->n_removed < CORE_SEGMENT_EDITS)
    doc->removed[doc->n_removed++] = doc->line[index].at;
  doc->n_lines--;
  memmove (&doc->line[index], &doc->line[index + 1],
           (gsize) (doc->n_lines - (int) index) * sizeof doc->line[0]);
  lines_edited (self);
}

/* Evenly where the finder has nothing to say. */
static void
spread_lines (BenchDoc *doc, int n)
{
  doc->n_lines = n;
  for (int i = 0; i < n; i++)
    doc->line[i] = (BenchLine){ (i + 1.) / (n + 1), 0, FALSE };
}

void
bench_model_set_plates (BenchModel *self, int count)
{
  BenchDoc *doc = &self->doc;
  int before = doc->n_lines;

  count = CLAMP (count, 1, BENCH_MAX_BOUNDARIES + 1);
  if (count == doc->n_lines + 1)
    return;
  bench_touch (self, 0, 0);
  doc->n_removed = 0;
  reset_others (self, count);
  if (doc->n_lines != count - 1)
    {
      /* Lines that the keeper put may stand in the way of so many. */
      for (int i = 0; i < before; i++)
        doc->line[i].by_keeper = FALSE;
      reset_others (self, count);
    }
  if (doc->n_lines != count - 1)
    spread_lines (doc, count - 1);
  doc->edited = TRUE;
  doc->confirmed = FALSE;
  bench_rerun (self);
  bench_changed (self);
}

int
bench_model_count (BenchModel *self)
{
  return self->doc.n_lines == 0 ? -1 : self->doc.n_lines + 1;
}

void
bench_model_best_two (BenchModel *self, int *first, double *p_first, int *second, double *p_second)
{
  const CoreSegmentResult *result = NULL;

  if (self->found != NULL && self->found->status == IMG_STRIP_OK)
    result = &self->found->segments;
  *first = result != NULL ? result->best : 0;
  *p_first = result != NULL ? result->best_p : 0;
  *second = result != NULL ? result->second : 0;
  *p_second = result != NULL ? result->second_p : 0;
}

gboolean
bench_model_last_ratio (BenchModel *self, double *ratio)
{
  const BenchDoc *doc = &self->doc;
  int n = doc->n_lines;

  if (n < 3)
    return FALSE;
  *ratio = (1 - doc->line[n - 1].at) * 3 / (doc->line[n - 1].at - (n > 3 ? doc->line[n - 4].at : 0));
  return TRUE;
}

BenchAxisProblem
bench_model_axis_problem (BenchModel *self)
{
  if (self->found == NULL || self->found->status == IMG_STRIP_OK)
    return BENCH_AXIS_FINE;
  return self->found->status == IMG_STRIP_CROSSED ? BENCH_AXIS_CROSSED : BENCH_AXIS_SHORT;
}

gboolean
bench_model_usable (BenchModel *self)
{
  return self->found != NULL && self->found->usable;
}

unsigned
bench_model_doubts (BenchModel *self)
{
  int small = self->doc.small_plate == CORE_SMALL_COUNTED, n = bench_model_count (self);
  unsigned doubts = self->doc.suggested && !self->doc.axis_right ? BENCH_DOUBT_PLACED : 0;

  if (self->found == NULL || self->found->status != IMG_STRIP_OK)
    return doubts;
  if (n < 0)
    n = self->found->segments.best;
  if (self->doc.convention == CORE_CONVENTION_APPENDAGES)
    n = 0;
  if (n - small > CORE_PLATES_MOST)
    doubts |= BENCH_DOUBT_MANY;
  if (n > 0 && n - small < CORE_PLATES_FEWEST)
    doubts |= BENCH_DOUBT_FEW;
  if ((self->found->doubt & IMG_DOUBT_LINES) != 0 && !self->doc.edited)
    doubts |= BENCH_DOUBT_LINES;
  if (!self->doc.axis_right)
    doubts |= ((self->found->doubt & IMG_DOUBT_TIP) != 0 ? BENCH_DOUBT_TIP : 0) |
              ((self->found->doubt & IMG_DOUBT_AFTER) != 0 ? BENCH_DOUBT_AFTER : 0) |
              ((self->found->doubt & IMG_DOUBT_BEFORE) != 0 ? BENCH_DOUBT_BEFORE : 0);
  return doubts;
}

unsigned
bench_model_unusable (BenchModel *self)
{
  if (self->found == NULL)
    return 0;
  if (self->found->status == IMG_STRIP_TOO_SHORT)
    return CORE_UNUSABLE_TOO_SHORT;
  return self->found->unusable;
}

ImgPixels *
bench_model_strip (BenchModel *self)
{
  if (self->shown == NULL && self->strip != NULL)
    self->shown = img_strip_render (self->pixels, self->strip, STRIP_ROWS);
  return self->shown;
}
