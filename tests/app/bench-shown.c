/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-shown.c — see bench-shown.h. */
#include "bench-shown.h"

#include <locale.h>

static const CoreId no_photo = { { 1 } };

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (bench_model_load_finish (BENCH_MODEL (source), result, &error));
  g_assert_no_error (error);
  *(gboolean *) data = TRUE;
}

void
settle (void)
{
  for (int i = 0; i < 200 && g_main_context_iteration (NULL, FALSE); i++)
    ;
}

void
make_journal (Bench *bench)
{
  fixture_set_up (&bench->journal, NULL);
  bench->animal =
    fixture_add (bench->journal.desk, CORE_SUBJECT_ANIMAL, "species=hierodula number=22");
}

static void
make_widgets (Bench *bench)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  bench->window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (bench->window), 1000, 700);
  bench->canvas = g_object_ref_sink (APP_CANVAS (app_canvas_new ()));
  bench->marks = g_object_ref_sink (APP_MARKS (app_marks_new (bench->canvas)));
  bench->steps = g_object_ref_sink (APP_STEPS (app_steps_new (bench->marks)));
  bench->strip = g_object_ref_sink (APP_STRIP (app_strip_new (bench->marks)));
  bench->count = g_object_ref_sink (APP_COUNT (app_count_new ()));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (bench->canvas));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (bench->strip));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (bench->count));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (bench->steps));
  gtk_window_set_child (GTK_WINDOW (bench->window), box);
  gtk_window_present (GTK_WINDOW (bench->window));
}

void
set_up (Bench *bench, gconstpointer data)
{
  gboolean done = FALSE;

  bench_double_proposed = 8;
  bench_double_chance = .9;
  bench_double_unusable = bench_double_doubts = 0;
  bench_double_fails = FALSE;
  bench_double_records = 0;
  make_journal (bench);
  bench->model = bench_model_new (bench->journal.desk, bench->animal, no_photo);
  bench_model_load_async (bench->model, NULL, loaded_cb, &done);
  while (!done)
    g_main_context_iteration (NULL, TRUE);
  make_widgets (bench);
  app_canvas_set_pixels (bench->canvas, bench_model_pixels (bench->model));
  app_marks_set_model (bench->marks, bench->model);
  app_steps_set_model (bench->steps, bench->model);
  app_strip_set_model (bench->strip, bench->model);
  gtk_test_widget_wait_for_draw (bench->window);
}

void
tear_down (Bench *bench, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (bench->window));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_assert_finalize_object (bench->count);
  g_assert_finalize_object (bench->strip);
  g_assert_finalize_object (bench->steps);
  g_assert_finalize_object (bench->canvas); /* lets go of the marks, its child */
  g_assert_finalize_object (bench->marks);
  g_assert_finalize_object (bench->model);
  desk_subject_unref (bench->animal);
  fixture_tear_down (&bench->journal, NULL);
}

void
assert_describes (Bench *bench, const char *part)
{
  g_autofree char *text = app_marks_describe (bench->marks);
  g_autofree char *wrong =
    gtk_test_accessible_check_property (GTK_ACCESSIBLE (bench->marks),
                                        GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text);

  if (strstr (text, part) == NULL)
    g_error ("“%s” is not in “%s”", part, text);
  g_assert_null (wrong); /* what it says is what assistive technology gets */
}

gboolean
says (GtkWidget *widget, const char *part)
{
  if (GTK_IS_LABEL (widget) && gtk_widget_get_visible (widget) &&
      strstr (gtk_label_get_text (GTK_LABEL (widget)), part) != NULL)
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (says (child, part))
      return TRUE;
  return FALSE;
}

void
place_axis (Bench *bench)
{
  bench_double_go (bench->model, BENCH_STEP_AXIS);
  bench_model_set_mark (bench->model, BENCH_MARK_BASE, (CorePoint){ 400, 100 });
  bench_model_set_mark (bench->model, BENCH_MARK_TIP, (CorePoint){ 400, 500 });
}

gboolean
bench_shown_init (int *argc, char ***argv)
{
  setlocale (LC_ALL, "");
  if (!gtk_init_check ())
    {
      g_print ("1..0 # SKIP no display\n");
      return FALSE;
    }
  adw_init ();
  g_test_init (argc, argv, NULL);
  return TRUE;
}
