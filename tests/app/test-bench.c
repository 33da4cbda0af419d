/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-bench.c — canvas, marks, strip, count, steps and page of the photo bench over a
 * model that stands in for the real one (bench-double.c). */
#include <locale.h>
#include <math.h>

#include "app/app-bench-page.h"
#include "app/app-picture-page.h"
#include "app/app-verdict.h"
#include "bench-shown.h"

static const CoreId no_photo = { { 1 } };

/* ---- canvas ---- */

static void
test_zoom_to_pointer (Bench *bench, gconstpointer data)
{
  static const struct
  {
    double factor, x, y;
  } cases[] = {
    { 1.25, 100, 80 }, { .8, 10, 400 }, { 3, 300, 300 }, { 1 / 7.0, 5, 5 }, { 1.01, 250, 333 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double ix, iy, x, y, zoom = app_canvas_zoom (bench->canvas);

      app_canvas_to_image (bench->canvas, cases[i].x, cases[i].y, &ix, &iy);
      app_canvas_zoom_at (bench->canvas, cases[i].factor, cases[i].x, cases[i].y);
      app_canvas_to_widget (bench->canvas, ix, iy, &x, &y);
      g_assert_cmpfloat_with_epsilon (x, cases[i].x, 1e-6);
      g_assert_cmpfloat_with_epsilon (y, cases[i].y, 1e-6);
      g_assert_cmpfloat_with_epsilon (app_canvas_zoom (bench->canvas), zoom * cases[i].factor,
                                      1e-9);
    }
}

/* Neither zoom nor pan loses the picture; 0 shows it whole. */
static void
test_fit (Bench *bench, gconstpointer data)
{
  double fitted = app_canvas_zoom (bench->canvas), x, y;

  for (int i = 0; i < 60; i++)
    app_canvas_zoom_at (bench->canvas, 2, 10, 10);
  g_assert_cmpfloat (app_canvas_zoom (bench->canvas), <=, 64);
  app_canvas_pan (bench->canvas, 1e7, 1e7);
  app_canvas_to_widget (bench->canvas, 0, 0, &x, &y);
  g_assert_cmpfloat (x, <, gtk_widget_get_width (GTK_WIDGET (bench->canvas)));
  g_assert_cmpfloat (y, <, gtk_widget_get_height (GTK_WIDGET (bench->canvas)));
  app_canvas_zoom_at (bench->canvas, NAN, 10, 10);
  g_assert_true (isfinite (app_canvas_zoom (bench->canvas)));
  app_canvas_fit (bench->canvas);
  g_assert_cmpfloat_with_epsilon (app_canvas_zoom (bench->canvas), fitted, 1e-9);
  app_canvas_to_widget (bench->canvas, 0, 0, &x, &y);
  g_assert_cmpfloat (x, >=, 0);
  g_assert_cmpfloat (y, >=, 0);
}

/* ---- marks ---- */

static void
test_place_by_keys (Bench *bench, gconstpointer data)
{
  BenchMark missing;
  CorePoint at;

  g_assert_false (app_marks_key (bench->marks, GDK_KEY_Return, 0)); /* nothing to place yet */
  bench_double_go (bench->model, BENCH_STEP_AXIS);
  assert_describes (bench, "0 marks.");
  g_assert_true (app_marks_missing (bench->marks, &missing));
  g_assert_cmpint (missing, ==, BENCH_MARK_BASE);
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_Return, 0));
  g_assert_true (bench_model_mark (bench->model, BENCH_MARK_BASE, &at));
  g_assert_cmpfloat_with_epsilon (at.x, 400, 1); /* the middle of the picture that fits */
  g_assert_cmpfloat_with_epsilon (at.y, 300, 1);
  assert_describes (bench, "Chosen: base at 400,300.");
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_Return, 0));
  g_assert_false (app_marks_missing (bench->marks, &missing));
  assert_describes (bench, "Chosen: tip at 400,300. 2 marks. base at 400,300; tip at 400,300.");
  g_assert_false (app_marks_key (bench->marks, GDK_KEY_Return, 0)); /* now it means Next */
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_Insert, 0));
  g_assert_true (bench_model_mark (bench->model, BENCH_MARK_BEND, &at));
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_Delete, 0));
  g_assert_false (bench_model_mark (bench->model, BENCH_MARK_BEND, &at));
}

/* What the program finds is placed by one key, turned round by another, bent three times. */
static void
test_axis_by_keys (Bench *bench, gconstpointer data)
{
  CorePoint at;

  g_assert_false (app_marks_key (bench->marks, GDK_KEY_s, 0)); /* there is no axis to mark yet */
  bench_double_go (bench->model, BENCH_STEP_AXIS);
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_s, 0));
  assert_describes (bench, "2 marks. base at 400,100; tip at 400,500.");
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_x, 0));
  assert_describes (bench, "base at 400,500; tip at 400,100.");
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_x, 0));
  for (int i = 0; i < 3; i++)
    g_assert_true (app_marks_key (bench->marks, GDK_KEY_Insert, 0));
  g_assert_false (app_marks_key (bench->marks, GDK_KEY_Insert, 0));
  assert_describes (bench, "Chosen: bend at 75 % of the axis (400,400). 5 marks.");
  /* Halves first the way, then the halves. */
  g_assert_true (bench_model_mark (bench->model, BENCH_MARK_BEND, &at));
  g_assert_cmpfloat_with_epsilon (at.y, 300, 1e-9);
  g_assert_true (bench_model_mark (bench->model, BENCH_MARK_BEND_2, &at));
  g_assert_cmpfloat_with_epsilon (at.y, 200, 1e-9);
  bench_double_go (bench->model, BENCH_STEP_BOUNDARIES);
  g_assert_false (app_marks_key (bench->marks, GDK_KEY_x, 0));
}

static void
test_nudge (Bench *bench, gconstpointer data)
{
  static const struct
  {
    guint key;
    GdkModifierType state;
    double dx, dy;
  } cases[] = {
    { GDK_KEY_Left, 0, -1, 0 },
    { GDK_KEY_Right, 0, 1, 0 },
    { GDK_KEY_Up, 0, 0, -1 },
    { GDK_KEY_Down, 0, 0, 1 },
    { GDK_KEY_Down, GDK_SHIFT_MASK, 0, 10 },
    { GDK_KEY_KP_Left, GDK_SHIFT_MASK, -10, 0 },
  };
  CorePoint from, to;

  place_axis (bench);
  app_marks_choose (bench->marks, (AppMarkRef){ APP_MARK_POINT, BENCH_MARK_BASE });
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      CorePoint before, after;

      bench_model_mark (bench->model, BENCH_MARK_BASE, &before);
      g_assert_true (app_marks_key (bench->marks, cases[i].key, cases[i].state));
      bench_model_mark (bench->model, BENCH_MARK_BASE, &after);
      g_assert_cmpfloat_with_epsilon (after.x - before.x, cases[i].dx, 1e-9);
      g_assert_cmpfloat_with_epsilon (after.y - before.y, cases[i].dy, 1e-9);
    }
  /* With both a share of what is in view, so that a large picture that is seen whole is crossed in a few. */
  bench_model_mark (bench->model, BENCH_MARK_BASE, &from);
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_Down, GDK_SHIFT_MASK | GDK_CONTROL_MASK));
  bench_model_mark (bench->model, BENCH_MARK_BASE, &to);
  g_assert_cmpfloat ((to.y - from.y) * app_canvas_zoom (bench->canvas), >=, 10);
  /* Which one the arrows move stands in words. */
  g_assert_true (says (GTK_WIDGET (bench->steps), "Chosen: base."));
  /* Ctrl and arrows belong to the picture. */
  g_assert_false (app_marks_key (bench->marks, GDK_KEY_Left, GDK_CONTROL_MASK));
}

static double
at_of (Bench *bench, gsize index)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];

  g_assert_cmpuint (index, <, bench_model_boundaries (bench->model, bounds, BENCH_MAX_BOUNDARIES));
  return bounds[index].at;
}

/* The axis is 400 pixels long: a pixel is 1/400 of it. */
static void
test_boundaries_by_keys (Bench *bench, gconstpointer data)
{
  double before;

  place_axis (bench);
  bench_double_go (bench->model, BENCH_STEP_BOUNDARIES);
  assert_describes (bench, "7 boundaries in per cent of the axis from its base: 12.5 ± 0.8 %; 25.0 ± 0.8 %;");
  app_marks_choose (bench->marks, (AppMarkRef){ APP_MARK_BOUNDARY, 2 });
  assert_describes (bench, "Chosen: boundary 3 at ");
  before = at_of (bench, 2);
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_Down, GDK_SHIFT_MASK));
  g_assert_cmpfloat_with_epsilon (at_of (bench, 2) - before, 10 / 400.0, 1e-9);
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_Up, 0));
  g_assert_cmpfloat_with_epsilon (at_of (bench, 2) - before, 9 / 400.0, 1e-9);
  assert_describes (bench, "Chosen: boundary 3 at ");
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_bracketright, 0));
  assert_describes (bench, "Chosen: boundary 4 at ");
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_Delete, 0));
  g_assert_cmpint (bench_model_count (bench->model), ==, 7);
  /* The gap that was left is the widest plate: Insert goes there. */
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_Insert, 0));
  g_assert_cmpint (bench_model_count (bench->model), ==, 8);
  g_assert_cmpfloat_with_epsilon (at_of (bench, 3), (at_of (bench, 2) + at_of (bench, 4)) / 2,
                                  1e-9);
  assert_describes (bench, "Chosen: boundary 4 at ");
}

/* A chosen boundary pushed past its neighbour stays the chosen one; none leaves the axis. */
static void
test_boundary_limits (Bench *bench, gconstpointer data)
{
  place_axis (bench);
  bench_double_go (bench->model, BENCH_STEP_BOUNDARIES);
  app_marks_choose (bench->marks, (AppMarkRef){ APP_MARK_BOUNDARY, 0 });
  for (int i = 0; i < 100; i++)
    app_marks_key (bench->marks, GDK_KEY_Up, GDK_SHIFT_MASK);
  g_assert_cmpfloat (at_of (bench, 0), >=, 0);
  for (int i = 0; i < 11; i++)
    app_marks_key (bench->marks, GDK_KEY_Down, GDK_SHIFT_MASK);
  assert_describes (bench, "Chosen: boundary 2 at ");
  for (int i = 0; i < 20; i++)
    app_marks_key (bench->marks, GDK_KEY_Insert, 0);
  g_assert_cmpint (bench_model_count (bench->model), ==, BENCH_MAX_BOUNDARIES + 1);
  bench_double_go (bench->model, BENCH_STEP_WHAT);
  g_assert_cmpint (app_marks_chosen (bench->marks).kind, ==, APP_MARK_NONE);
  g_assert_false (app_marks_key (bench->marks, GDK_KEY_Delete, 0));
}

static GtkGesture *
find_gesture (GtkWidget *widget, GType type)
{
  g_autoptr (GListModel) all = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (all); i++)
    {
      g_autoptr (GtkEventController) one = g_list_model_get_item (all, i);

      if (G_TYPE_CHECK_INSTANCE_TYPE (one, type))
        return GTK_GESTURE (one); /* lives as long as the widget */
    }
  return NULL;
}

/* One drag is one change of the model, at its end. */
static void
test_drag (Bench *bench, gconstpointer data)
{
  GtkGesture *drag = find_gesture (GTK_WIDGET (bench->marks), GTK_TYPE_GESTURE_DRAG);
  double x, y, zoom = app_canvas_zoom (bench->canvas), before;
  CorePoint at;

  place_axis (bench);
  app_canvas_to_widget (bench->canvas, 400, 100, &x, &y);
  g_signal_emit_by_name (drag, "drag-begin", x + 2, y);
  g_signal_emit_by_name (drag, "drag-update", 40 * zoom, 20 * zoom);
  bench_model_mark (bench->model, BENCH_MARK_BASE, &at);
  g_assert_cmpfloat (at.x, ==, 400);
  g_signal_emit_by_name (drag, "drag-end", 40 * zoom, 20 * zoom);
  bench_model_mark (bench->model, BENCH_MARK_BASE, &at);
  g_assert_cmpfloat_with_epsilon (at.x, 440, 1e-6);
  g_assert_cmpfloat_with_epsilon (at.y, 120, 1e-6);
  bench_model_undo (bench->model);
  bench_model_mark (bench->model, BENCH_MARK_BASE, &at);
  g_assert_cmpfloat (at.x, ==, 400);

  bench_double_go (bench->model, BENCH_STEP_BOUNDARIES);
  before = at_of (bench, 4);
  app_canvas_to_widget (bench->canvas, 430, 100 + 400 * before, &x, &y); /* on its line */
  g_signal_emit_by_name (drag, "drag-begin", x, y);
  g_signal_emit_by_name (drag, "drag-update", 0.0, 12 * zoom);
  g_signal_emit_by_name (drag, "drag-end", 0.0, 12 * zoom);
  g_assert_cmpfloat_with_epsilon (at_of (bench, 4) - before, 12 / 400.0, 1e-6);
  assert_describes (bench, "Chosen: boundary 5 at ");
}

/* ---- steps and count ---- */

static void
test_steps (Bench *bench, gconstpointer data)
{
  GtkWidget *steps = GTK_WIDGET (bench->steps);

  g_assert_true (says (steps, "What does the picture show?"));
  app_steps_next (bench->steps); /* not answered yet */
  g_assert_cmpint (bench_model_step (bench->model), ==, BENCH_STEP_WHAT);
  g_assert_true (app_steps_answer (bench->steps, 1));
  app_steps_next (bench->steps); /* one of two */
  g_assert_cmpint (bench_model_step (bench->model), ==, BENCH_STEP_WHAT);
  g_assert_true (says (steps, "Still to answer: The animal / Its shed skin?"));
  g_assert_true (app_steps_answer (bench->steps, 5));
  g_assert_false (app_steps_answer (bench->steps, 6));
  g_assert_false (app_steps_answer (bench->steps, 0));
  g_assert_cmpint (bench_model_side (bench->model), ==, CORE_SIDE_UNDERSIDE);
  g_assert_cmpint (bench_model_of (bench->model), ==, CORE_OF_SHED);
  app_steps_next (bench->steps);
  g_assert_true (says (steps, "Click on the base of the abdomen."));
  place_axis (bench);
  app_steps_next (bench->steps);
  g_assert_true (says (steps, "Does every line lie between two plates?"));
  app_steps_next (bench->steps);
  g_assert_true (says (steps, "one of the 8?"));
  g_assert_false (
    app_steps_answer (bench->steps, 4)); /* only empusids are asked what they counted */
  g_assert_true (app_steps_answer (bench->steps, 2));
  g_assert_cmpint (bench_model_small_plate (bench->model), ==, CORE_SMALL_COUNTED);
  app_steps_back (bench->steps);
  g_assert_cmpint (bench_model_step (bench->model), ==, BENCH_STEP_BOUNDARIES);
  bench_double_go (bench->model, BENCH_STEP_VERDICT);
  g_assert_true (says (steps, "Record"));
  app_steps_next (bench->steps); /* Record is never meant by Next */
  g_assert_cmpint (bench_double_records, ==, 0);
}

/* ---- pages ---- */

typedef struct
{
  Bench bench;
  GtkWidget *window;
  GtkWidget *page;
} Page;

static void
open_page (Page *self)
{
  make_journal (&self->bench);
  self->window = gtk_window_new ();
  self->page = g_object_ref_sink (app_bench_page_new ());
  g_object_set (self->page, "desk", self->bench.journal.desk, NULL);
  gtk_window_set_default_size (GTK_WINDOW (self->window), 1200, 700);
  gtk_window_set_child (GTK_WINDOW (self->window), self->page);
  gtk_window_present (GTK_WINDOW (self->window));
  app_bench_page_open (APP_BENCH_PAGE (self->page), desk_subject_id (self->bench.animal), no_photo);
  gtk_test_widget_wait_for_draw (self->window);
}

static void
close_page (Page *self)
{
  gtk_window_destroy (GTK_WINDOW (self->window));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_assert_finalize_object (self->page);
  desk_subject_unref (self->bench.animal);
  fixture_tear_down (&self->bench.journal, NULL);
}

static gboolean
press (GtkWidget *page, guint keyval, GdkModifierType state)
{
  g_autoptr (GListModel) all = gtk_widget_observe_controllers (page);
  gboolean used = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (all); i++)
    {
      g_autoptr (GtkEventController) one = g_list_model_get_item (all, i);

      if (GTK_IS_EVENT_CONTROLLER_KEY (one))
        g_signal_emit_by_name (one, "key-pressed", keyval, 0, state, &used);
    }
  return used;
}

static void
test_page_records_once (void)
{
  Page page = { 0 };

  bench_double_fails = FALSE;
  bench_double_records = 0;
  open_page (&page);
  settle ();
  g_assert_true (says (page.page, "What does the picture show?"));
  g_assert_true (press (page.page, GDK_KEY_1, 0));
  g_assert_true (press (page.page, GDK_KEY_4, 0));
  g_assert_true (press (page.page, GDK_KEY_Return, 0));
  g_assert_true (says (page.page, "Click on the base of the abdomen."));
  g_assert_true (app_bench_page_undo (page.page, FALSE));
  g_assert_true (press (page.page, GDK_KEY_BackSpace, 0));
  g_assert_true (says (page.page, "What does the picture show?"));
  g_assert_false (press (page.page, GDK_KEY_x, 0));
  g_assert_true (says (page.page, "Proof sheet…"));
  /* Without a window around it there is nobody to ask where to. */
  g_assert_true (gtk_widget_activate_action (page.page, "bench.proof", NULL));
  g_assert_cmpint (bench_double_records, ==, 0);
  close_page (&page);
}

static GtkWidget *
find_type (GtkWidget *widget, GType type)
{
  GtkWidget *found = G_TYPE_CHECK_INSTANCE_TYPE (widget, type) ? widget : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find_type (child, type);
  return found;
}

/* As with the focus on the marks: they have a key first, then the page. */
static void
strike (Page *page, guint keyval)
{
  AppMarks *marks = APP_MARKS (find_type (page->page, APP_TYPE_MARKS));

  if (!app_marks_key (marks, keyval, 0))
    g_assert_true (press (page->page, keyval, 0));
}

static void
hears (Page *page, const char *part)
{
  g_autofree char *text = app_marks_describe (APP_MARKS (find_type (page->page, APP_TYPE_MARKS)));

  if (strstr (text, part) == NULL)
    g_error ("“%s” is not in “%s”", part, text);
}

/* Enter before all is answered asks for the rest, with the focus there; once it is answered Enter goes on. */
static void
test_page_enter_on_an_answer (void)
{
  Page page = { 0 };
  GtkWidget *asked;

  bench_double_fails = FALSE;
  open_page (&page);
  settle ();
  g_assert_true (press (page.page, GDK_KEY_1, 0));
  g_assert_true (press (page.page, GDK_KEY_Return, 0));
  g_assert_true (says (page.page, "Still to answer: The animal / Its shed skin?"));
  asked = gtk_root_get_focus (GTK_ROOT (page.window));
  g_assert_true (GTK_IS_TOGGLE_BUTTON (asked));
  g_assert_false (press (asked, GDK_KEY_Return, 0)); /* the button answers, as buttons do */
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (asked), TRUE);
  g_assert_true (press (asked, GDK_KEY_Return, 0));
  g_assert_true (says (page.page, "Click on the base of the abdomen."));
  close_page (&page);
}

/* The bench from the first question to the record without a mouse: marks placed, moved, read out by
 * their place on the axis, and the verdict with what speaks for it where the focus is. */
static void
test_page_by_keys_alone (void)
{
  Page page = { 0 };
  GtkWidget *verdict;
  g_autofree char *wrong = NULL;

  bench_double_fails = FALSE;
  bench_double_records = 0;
  open_page (&page);
  settle ();
  strike (&page, GDK_KEY_1); /* underside */
  strike (&page, GDK_KEY_4); /* the animal */
  strike (&page, GDK_KEY_Return);
  strike (&page, GDK_KEY_s); /* what the program finds */
  hears (&page, "base at 400,100; tip at 400,500");
  g_assert_true (says (page.page, "Is this the abdomen?"));
  strike (&page, GDK_KEY_bracketright);
  hears (&page, "Chosen: base at 400,100.");
  strike (&page, GDK_KEY_Up);
  hears (&page, "Chosen: base at 400,99.");
  strike (&page, GDK_KEY_Down);
  strike (&page, GDK_KEY_Return);
  hears (&page, "7 boundaries in per cent of the axis from its base: 12.5 ± 0.8 %;");
  strike (&page, GDK_KEY_Page_Down); /* from the base to the tip, then to the first boundary */
  strike (&page, GDK_KEY_Page_Down);
  hears (&page, "Chosen: boundary 1 at 12.5 ± 0.8 %.");
  strike (&page, GDK_KEY_Down);
  hears (&page, "Chosen: boundary 1 at 12.8 %.");
  strike (&page, GDK_KEY_Return);
  strike (&page, GDK_KEY_1); /* the small plate */
  strike (&page, GDK_KEY_Return);
  strike (&page, GDK_KEY_2); /* the last plate */
  strike (&page, GDK_KEY_Return);
  for (int i = 0; i < 5; i++) /* five marks of the wings, each in the middle of the view */
    strike (&page, GDK_KEY_Return);
  strike (&page, GDK_KEY_Return);
  if (says (page.page, "Does the picture show one of these signs clearly?"))
    strike (&page, GDK_KEY_Return);
  g_assert_true (says (page.page, "Read the verdict."));
  verdict = find_type (page.page, APP_TYPE_VERDICT);
  g_assert_true (gtk_widget_is_focus (verdict));
  wrong = gtk_test_accessible_check_property (GTK_ACCESSIBLE (verdict), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                              "Undecided: male 50 in 100, female 50 in 100.");
  g_assert_cmpstr (wrong, ==, NULL);
  g_assert_true (press (page.page, GDK_KEY_Return, GDK_CONTROL_MASK));
  settle ();
  g_assert_cmpint (bench_double_records, ==, 1);
  close_page (&page);
}

/* Other pictures of the animal at will. */
static void
test_page_other_pictures (void)
{
  Page page = { 0 };

  bench_double_fails = FALSE;
  open_page (&page);
  settle ();
  g_assert_false (says (page.page, "There is no other picture of this animal yet."));
  g_assert_true (press (page.page, GDK_KEY_e, 0));
  g_assert_true (says (page.page, "There is no other picture of this animal yet."));
  g_assert_true (press (page.page, GDK_KEY_e, 0));
  g_assert_false (says (page.page, "There is no other picture of this animal yet."));
  close_page (&page);
}

static void
test_page_error (void)
{
  Page page = { 0 };

  bench_double_fails = TRUE;
  open_page (&page);
  settle ();
  g_assert_true (says (page.page, "This file is no picture."));
  g_assert_true (says (page.page, "Go back to the animal"));
  g_assert_false (app_bench_page_undo (page.page, FALSE)); /* the journal's turn */
  close_page (&page);
}

static void
test_picture_page (void)
{
  GtkWidget *window = gtk_window_new ();
  GtkWidget *page = g_object_ref_sink (app_picture_page_new ());

  gtk_window_set_child (GTK_WINDOW (window), page);
  gtk_window_present (GTK_WINDOW (window));
  app_picture_page_open (APP_PICTURE_PAGE (page), no_photo);
  settle ();
  g_assert_true (says (page, "The file of this picture is missing."));
  gtk_window_destroy (GTK_WINDOW (window));
  settle ();
  g_assert_finalize_object (page);
}

int
main (int argc, char **argv)
{
  if (!bench_shown_init (&argc, &argv))
    return 0;
#define BENCH(path, func) g_test_add ("/bench/" path, Bench, NULL, set_up, func, tear_down)
  BENCH ("canvas/zoom-to-pointer", test_zoom_to_pointer);
  BENCH ("canvas/fit", test_fit);
  BENCH ("marks/place-by-keys", test_place_by_keys);
  BENCH ("marks/axis-by-keys", test_axis_by_keys);
  BENCH ("marks/nudge", test_nudge);
  BENCH ("marks/boundaries-by-keys", test_boundaries_by_keys);
  BENCH ("marks/boundary-limits", test_boundary_limits);
  BENCH ("marks/drag", test_drag);
  BENCH ("steps/questions", test_steps);
  g_test_add_func ("/bench/page/enter-on-an-answer", test_page_enter_on_an_answer);
  g_test_add_func ("/bench/page/keys", test_page_records_once);
  g_test_add_func ("/bench/page/keys-alone", test_page_by_keys_alone);
  g_test_add_func ("/bench/page/other-pictures", test_page_other_pictures);
  g_test_add_func ("/bench/page/error", test_page_error);
  g_test_add_func ("/bench/picture-page", test_picture_page);
  return g_test_run ();
}
