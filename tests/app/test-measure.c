/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-measure.c — the measuring page by keys alone: scale and line placed, moved and read out, the
 * length shown, saved, and taken back. */
#include <adwaita.h>
#include <locale.h>

#include "app/app-measure-page.h"
#include "app/app-ruler.h"
#include "demo/demo-draw.h"
#include "demo/demo-jpeg.h"
#include "desk-fixture.h"

typedef struct
{
  Fixture journal;
  DeskSubject *animal;
  GtkWidget *window;
  GtkWidget *page; /* held */
} Measure;

static GtkWidget *
find_type (GtkWidget *widget, GType type)
{
  GtkWidget *found = G_TYPE_CHECK_INSTANCE_TYPE (widget, type) ? widget : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find_type (child, type);
  return found;
}

static gboolean
says (GtkWidget *widget, const char *part)
{
  if (!gtk_widget_get_visible (widget))
    return FALSE;
  if (GTK_IS_LABEL (widget) && strstr (gtk_label_get_text (GTK_LABEL (widget)), part) != NULL)
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (says (child, part))
      return TRUE;
  return FALSE;
}

/* Until it is said, or ten seconds are over. */
static void
wait_for (GtkWidget *widget, const char *part)
{
  gint64 end = g_get_monotonic_time () + 10 * G_TIME_SPAN_SECOND;

  while (!says (widget, part) && g_get_monotonic_time () < end)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (1000);
  if (!says (widget, part))
    g_error ("nothing says “%s”", part);
}

static CoreId
add_photo (Measure *self)
{
  static const DemoDrawOptions options = { .seed = 5, .width = 640, .height = 480, .level = 1 };
  g_autoptr (DemoDrawing) drawing = demo_draw (&options);
  g_autofree char *path = g_strconcat (self->journal.dir, "-new.jpg", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  DeskSync sync = { NULL };
  DeskPhoto photo;

  demo_jpeg_write (path, drawing->rgb, drawing->width, drawing->height, 92, 1, "2026-05-20 18:30:00", &error);
  g_assert_no_error (error);
  desk_photo_add_async (self->journal.desk, desk_subject_id (self->animal), file, CORE_DAY_NONE, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  desk_photo_add_finish (self->journal.desk, result, &photo, &error);
  g_assert_no_error (error);
  g_assert_true (g_file_delete (file, NULL, NULL));
  return photo.photo;
}

static void
set_up (Measure *self, gconstpointer data)
{
  fixture_set_up (&self->journal, NULL);
  self->animal = fixture_add (self->journal.desk, CORE_SUBJECT_ANIMAL,
                              "species=hierodula hatched=2026-02-01 acquired=2026-04-20 moults=5");
  self->window = gtk_window_new ();
  self->page = g_object_ref_sink (app_measure_page_new ());
  g_object_set (self->page, "desk", self->journal.desk, NULL);
  gtk_window_set_default_size (GTK_WINDOW (self->window), 1200, 700);
  gtk_window_set_child (GTK_WINDOW (self->window), self->page);
  gtk_window_present (GTK_WINDOW (self->window));
  app_measure_page_open (APP_MEASURE_PAGE (self->page), desk_subject_id (self->animal), add_photo (self));
  wait_for (self->page, "Click on one end of a known length");
  gtk_test_widget_wait_for_draw (self->window);
}

static void
tear_down (Measure *self, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (self->window));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_assert_finalize_object (self->page);
  desk_subject_unref (self->animal);
  fixture_tear_down (&self->journal, NULL);
}

static void
test_by_keys (Measure *self, gconstpointer data)
{
  AppRuler *ruler = APP_RULER (find_type (self->page, APP_TYPE_RULER));
  GtkWidget *known = find_type (self->page, GTK_TYPE_ENTRY);
  g_autofree char *said = NULL;

  g_assert_true (app_ruler_key (ruler, GDK_KEY_Return, 0)); /* one end, in the middle of the view */
  g_assert_true (app_ruler_key (ruler, GDK_KEY_Return, 0));
  for (int i = 0; i < 10; i++) /* the other end 100 pixels to the right */
    g_assert_true (app_ruler_key (ruler, GDK_KEY_Right, GDK_SHIFT_MASK));
  g_assert_true (says (self->page, "Click on one end of what you measure."));
  g_assert_true (app_ruler_key (ruler, GDK_KEY_Return, 0));
  g_assert_true (app_ruler_key (ruler, GDK_KEY_Return, 0));
  for (int i = 0; i < 15; i++) /* the line 150 pixels down */
    g_assert_true (app_ruler_key (ruler, GDK_KEY_Down, GDK_SHIFT_MASK));
  g_assert_false (app_ruler_key (ruler, GDK_KEY_Return, 0)); /* all that is needed is there */
  said = app_ruler_describe (ruler);
  g_assert_true (g_str_has_prefix (said, "Chosen: line 2 at 320,390."));
  g_assert_nonnull (strstr (said, "ruler 1 at 320,240; ruler 2 at 420,240;"));
  g_assert_true (says (self->page, "How long is it?"));
  gtk_editable_set_text (GTK_EDITABLE (known), "10,0"); /* the comma, too, is a decimal sign */
  g_assert_true (says (self->page, "15 mm"));
  g_assert_true (says (self->page, "a ruler 10 mm nearer"));
  g_assert_true (app_measure_page_undo (self->page, FALSE));
  g_assert_true (says (self->page, "How long is it?"));
  g_assert_true (app_measure_page_undo (self->page, TRUE));
  g_assert_true (says (self->page, "15 mm"));
}

/* The other task asks for a side view, finds the outline and offers a score. */
static void
test_plumpness (Measure *self, gconstpointer data)
{
  AppRuler *ruler = APP_RULER (find_type (self->page, APP_TYPE_RULER));
  GtkWidget *plump = gtk_widget_get_next_sibling (find_type (self->page, GTK_TYPE_TOGGLE_BUTTON));

  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (plump), TRUE);
  g_assert_true (says (self->page, "Seen from the side"));
  g_assert_true (app_ruler_key (ruler, GDK_KEY_Return, 0));
  g_assert_true (app_ruler_key (ruler, GDK_KEY_Return, 0));
  for (int i = 0; i < 18; i++)
    g_assert_true (app_ruler_key (ruler, GDK_KEY_Left, GDK_SHIFT_MASK));
  wait_for (self->page, "Does the outline lie on the abdomen?");
  g_assert_true (says (self->page, "belly "));
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  if (!gtk_init_check ())
    {
      g_print ("1..0 # SKIP no display\n");
      return 0;
    }
  adw_init ();
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/measure/by-keys", Measure, NULL, set_up, test_by_keys, tear_down);
  g_test_add ("/measure/plumpness", Measure, NULL, set_up, test_plumpness, tear_down);
  return g_test_run ();
}
