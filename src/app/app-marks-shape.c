/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-marks-shape.c — where marks and handles are, what lies under the pointer, in words too. */
#include "app/app-marks-private.h"

#include <glib/gi18n.h>
#include <math.h>

#define HIT_RADIUS 14.0 /* logical pixels */
#define LINE_RADIUS 7.0
#define HANDLE_OUT 14.0

/* ---- the axis ---- */

void
_app_marks_axis (AppMarks *self, AppAxis *axis)
{
  CorePoint dragged;
  gboolean drag = self->dragging && self->chosen.kind == APP_MARK_POINT &&
                  bench_model_mark (self->model, (BenchMark) self->chosen.index, &dragged);

  axis->n = self->model != NULL ? (int) bench_model_axis (self->model, axis->p) : 0;
  axis->length = 0;
  for (int i = 0; drag && i < axis->n; i++)
    if (axis->p[i].x == dragged.x && axis->p[i].y == dragged.y)
      axis->p[i] = self->preview;
  for (int i = 1; i < axis->n; i++)
    axis->length += hypot (axis->p[i].x - axis->p[i - 1].x, axis->p[i].y - axis->p[i - 1].y);
}

/* Unit vector toward the tip at the share `at`. */
CorePoint
_app_axis_direction (const AppAxis *axis, double at)
{
  double before = 0;

  for (int i = 1; i < axis->n; i++)
    {
      double dx = axis->p[i].x - axis->p[i - 1].x, dy = axis->p[i].y - axis->p[i - 1].y;
      double length = hypot (dx, dy);

      before += length;
      if (length > 0 && (at * axis->length <= before || i == axis->n - 1))
        return (CorePoint){ dx / length, dy / length };
    }
  return (CorePoint){ 0, 1 };
}

/* ---- what is shown ---- */

gboolean
_app_marks_point (AppMarks *self, BenchMark mark, CorePoint *at)
{
  if (self->model == NULL)
    return FALSE;
  if (self->dragging && self->chosen.kind == APP_MARK_POINT && self->chosen.index == (int) mark)
    {
      *at = self->preview;
      return TRUE;
    }
  return bench_model_mark (self->model, mark, at);
}

static void
shift (CorePoint *point, CorePoint by)
{
  point->x += by.x;
  point->y += by.y;
}

/* Handles on the right of the picture and numbers on its left, whichever way the animal lies. */
static void
turn_right (BenchBoundary *bounds, gsize n)
{
  double sum = 0;

  for (gsize i = 0; i < n; i++)
    sum += bounds[i].right.x - bounds[i].left.x;
  for (gsize i = 0; sum < 0 && i < n; i++)
    {
      CorePoint left = bounds[i].left;

      bounds[i].left = bounds[i].right;
      bounds[i].right = left;
    }
}

gsize
_app_marks_boundaries (AppMarks *self, BenchBoundary *out)
{
  gsize n =
    self->model != NULL ? bench_model_boundaries (self->model, out, BENCH_MAX_BOUNDARIES) : 0;

  if (self->dragging && self->chosen.kind == APP_MARK_BOUNDARY && self->chosen.index < (int) n)
    {
      BenchBoundary *moved = &out[self->chosen.index];
      AppAxis axis;
      CorePoint along;
      double by;

      _app_marks_axis (self, &axis);
      along = _app_axis_direction (&axis, moved->at);
      by = (self->preview_at - moved->at) * axis.length;
      along = (CorePoint){ along.x * by, along.y * by };
      shift (&moved->left, along);
      shift (&moved->right, along);
      shift (&moved->mid, along);
      moved->at = self->preview_at;
    }
  turn_right (out, n);
  return n;
}

static gboolean
is_wing_mark (BenchMark mark)
{
  return mark >= BENCH_MARK_WING_BASE && !bench_mark_is_bend (mark);
}

gboolean
_app_marks_shows_point (AppMarks *self, BenchMark mark)
{
  BenchStep step = self->model != NULL ? bench_model_step (self->model) : BENCH_STEP_WHAT;

  if (is_wing_mark (mark))
    return step == BENCH_STEP_WINGS;
  return step >= BENCH_STEP_AXIS && step != BENCH_STEP_WINGS && step != BENCH_STEP_CUE;
}

gboolean
_app_marks_shows_boundaries (AppMarks *self)
{
  BenchStep step = self->model != NULL ? bench_model_step (self->model) : BENCH_STEP_WHAT;

  return step >= BENCH_STEP_BOUNDARIES && step != BENCH_STEP_WINGS && step != BENCH_STEP_CUE;
}

gsize
_app_marks_items (AppMarks *self, AppMarkRef *out)
{
  static const BenchMark order[BENCH_N_MARKS] = {
    BENCH_MARK_BASE,           BENCH_MARK_BEND,         BENCH_MARK_BEND_2,   BENCH_MARK_BEND_3,
    BENCH_MARK_TIP,            BENCH_MARK_WING_BASE,    BENCH_MARK_WING_TIP, BENCH_MARK_ABDOMEN_TIP,
    BENCH_MARK_PRONOTUM_FRONT, BENCH_MARK_PRONOTUM_BACK
  };
  gsize n = 0;
  CorePoint at;

  for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
    if (_app_marks_shows_point (self, order[i]) && _app_marks_point (self, order[i], &at))
      out[n++] = (AppMarkRef){ APP_MARK_POINT, (int) order[i] };
  if (_app_marks_shows_boundaries (self))
    {
      BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
      gsize n_bounds = _app_marks_boundaries (self, bounds);

      for (gsize i = 0; i < n_bounds; i++)
        out[n++] = (AppMarkRef){ APP_MARK_BOUNDARY, (int) i };
    }
  return n;
}

void
_app_marks_handle (AppMarks *self, const BenchBoundary *boundary, double *x, double *y)
{
  double lx, ly, length;

  app_canvas_to_widget (self->canvas, boundary->left.x, boundary->left.y, &lx, &ly);
  app_canvas_to_widget (self->canvas, boundary->right.x, boundary->right.y, x, y);
  length = hypot (*x - lx, *y - ly);
  if (length > 0)
    {
      *x += (*x - lx) / length * HANDLE_OUT;
      *y += (*y - ly) / length * HANDLE_OUT;
    }
}

static double
off_line (AppMarks *self, const BenchBoundary *boundary, double x, double y)
{
  double ax, ay, bx, by, t, length2;

  app_canvas_to_widget (self->canvas, boundary->left.x, boundary->left.y, &ax, &ay);
  app_canvas_to_widget (self->canvas, boundary->right.x, boundary->right.y, &bx, &by);
  length2 = (bx - ax) * (bx - ax) + (by - ay) * (by - ay);
  t = length2 > 0 ? CLAMP (((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length2, 0, 1) : 0;
  return hypot (x - ax - t * (bx - ax), y - ay - t * (by - ay));
}

static double
off_item (AppMarks *self, AppMarkRef ref, const BenchBoundary *bounds, double x, double y)
{
  double hx, hy, near_line;
  CorePoint at;

  if (ref.kind == APP_MARK_POINT)
    {
      if (!_app_marks_point (self, (BenchMark) ref.index, &at))
        return INFINITY;
      app_canvas_to_widget (self->canvas, at.x, at.y, &hx, &hy);
      return hypot (x - hx, y - hy);
    }
  _app_marks_handle (self, &bounds[ref.index], &hx, &hy);
  near_line = off_line (self, &bounds[ref.index], x, y);
  return MIN (hypot (x - hx, y - hy), near_line <= LINE_RADIUS ? near_line + 4 : INFINITY);
}

AppMarkRef
_app_marks_hit (AppMarks *self, double x, double y)
{
  AppMarkRef items[APP_MARKS_MAX], best = { APP_MARK_NONE, 0 };
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize n = _app_marks_items (self, items);
  double least = HIT_RADIUS;

  _app_marks_boundaries (self, bounds);
  for (gsize i = 0; i < n; i++)
    {
      double off = off_item (self, items[i], bounds, x, y);

      if (off <= least)
        {
          least = off;
          best = items[i];
        }
    }
  return best;
}

/* ---- in words ---- */

const char *
app_mark_name (BenchMark mark)
{
  switch (mark)
    {
    case BENCH_MARK_BASE:
      return C_ ("mark", "base");
    case BENCH_MARK_TIP:
      return C_ ("mark", "tip");
    case BENCH_MARK_BEND:
    case BENCH_MARK_BEND_2:
    case BENCH_MARK_BEND_3:
      return C_ ("mark", "bend");
    case BENCH_MARK_WING_BASE:
      return C_ ("mark", "wing base");
    case BENCH_MARK_WING_TIP:
      return C_ ("mark", "wing tip");
    case BENCH_MARK_ABDOMEN_TIP:
      return C_ ("mark", "tip of the abdomen");
    case BENCH_MARK_PRONOTUM_FRONT:
      return C_ ("mark", "front of the shield");
    case BENCH_MARK_PRONOTUM_BACK:
      return C_ ("mark", "back of the shield");
    case BENCH_N_MARKS:
    default:
      return C_ ("mark", "mark");
    }
}

/* A mark of the axis is said by its place on it, too: a pixel says little to the ear. */
static char *
point_said (AppMarks *self, BenchMark mark, CorePoint at)
{
  const char *name = app_mark_name (mark);

  if (bench_mark_is_bend (mark))
    /* Translators: a bend: per cent of the way from base to tip, then its place in the picture */
    return g_strdup_printf (C_ ("bench", "%s at %.0f %% of the axis (%.0f,%.0f)"), name,
                            100 * bench_model_at_of (self->model, at), at.x, at.y);
  /* Translators: name of a mark and its place in the picture: "base at 145,90" */
  return g_strdup_printf (C_ ("bench", "%s at %.0f,%.0f"), name, at.x, at.y);
}

/* Translators: place of a boundary in per cent of the way from base to tip, and its doubt */
static char *
boundary_said (const BenchBoundary *boundary)
{
  if (boundary->by_keeper || !(boundary->sd > .005))
    return g_strdup_printf (C_ ("bench", "%.1f %%"), 100 * boundary->at);
  return g_strdup_printf (C_ ("bench", "%.1f ± %.1f %%"), 100 * boundary->at, 100 * boundary->sd);
}

char *
app_marks_chosen_said (AppMarks *self)
{
  switch (self->model != NULL ? self->chosen.kind : APP_MARK_NONE)
    {
    case APP_MARK_POINT:
      /* Translators: name of a mark: "base" */
      return g_strdup_printf (C_ ("bench", "Chosen: %s."), app_mark_name ((BenchMark) self->chosen.index));
    case APP_MARK_BOUNDARY:
      return g_strdup_printf (C_ ("bench", "Chosen: line %d."), self->chosen.index + 1);
    case APP_MARK_NONE:
    default:
      return NULL;
    }
}

static void
add_points (AppMarks *self, GString *text, const AppMarkRef *items, gsize n)
{
  gsize shown = 0;

  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *said = NULL;
      CorePoint at;

      if (items[i].kind != APP_MARK_POINT ||
          !_app_marks_point (self, (BenchMark) items[i].index, &at))
        continue;
      if (shown++ > 0)
        g_string_append (text, C_ ("bench", "; "));
      said = point_said (self, (BenchMark) items[i].index, at);
      g_string_append (text, said);
    }
  if (shown > 0)
    g_string_append (text, ". ");
}

static void
add_boundaries (AppMarks *self, GString *text)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize n = _app_marks_boundaries (self, bounds);

  if (n == 0)
    return;
  g_string_append_printf (text,
                          g_dngettext (GETTEXT_PACKAGE, "%u boundary of the axis from its base: ",
                                       "%u boundaries in per cent of the axis from its base: ", n),
                          (guint) n);
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *said = boundary_said (&bounds[i]);

      g_string_append_printf (text, "%s%s", i > 0 ? C_ ("bench", "; ") : "", said);
    }
  g_string_append (text, ". ");
}

static void
add_chosen (AppMarks *self, GString *text)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize n = _app_marks_boundaries (self, bounds);
  CorePoint at;

  if (self->chosen.kind == APP_MARK_POINT &&
      _app_marks_point (self, (BenchMark) self->chosen.index, &at))
    {
      g_autofree char *said = point_said (self, (BenchMark) self->chosen.index, at);

      /* Translators: a mark and its place: "Chosen: base at 145,90." */
      g_string_append_printf (text, C_ ("bench", "Chosen: %s."), said);
    }
  else if (self->chosen.kind == APP_MARK_BOUNDARY && self->chosen.index < (int) n)
    {
      g_autofree char *said = boundary_said (&bounds[self->chosen.index]);

      /* Translators: number of the boundary, its place: "Chosen: boundary 3 at 41 %." */
      g_string_append_printf (text, C_ ("bench", "Chosen: boundary %d at %s."),
                              self->chosen.index + 1, said);
    }
}

/* What was chosen or moved comes first: a reader that is told of the change says it first. */
char *
app_marks_describe (AppMarks *self)
{
  g_autoptr (GString) text = g_string_new (NULL);
  AppMarkRef items[APP_MARKS_MAX];
  gsize n = _app_marks_items (self, items);

  add_chosen (self, text);
  if (text->len > 0)
    g_string_append_c (text, ' ');
  g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, "%u mark. ", "%u marks. ", n),
                          (guint) n);
  add_points (self, text, items, n);
  if (_app_marks_shows_boundaries (self))
    add_boundaries (self, text);
  return g_strdup (g_strstrip (text->str));
}
