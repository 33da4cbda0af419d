/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-cup.c — what a card draws, looked at pixel by pixel where no words tell it. */
#include "app-fixture.h"

#include "app/app-cup.h"

#define EDGE 8 /* drawn round the cell, for what goes beyond it */

static AppCupData *
data_new (const char *number, const char *sign, double height)
{
  AppCupData *data = g_new0 (AppCupData, 1);

  data->number = g_strdup (number);
  data->sex_sign = g_strdup (sign);
  data->species = g_strdup ("ghost");
  data->stage = g_strdup ("L5");
  data->stage_brief = g_strdup ("L5");
  data->label = g_strdup (number);
  data->cup_height = height;
  data->body = .2;
  data->n_drawn = 1;
  return data;
}

/* The card as a picture of its cell and EDGE round it. */
static cairo_surface_t *
drawn (AppCup *cup, int width, int height)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  GskRenderNode *node;
  cairo_surface_t *surface
    = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width + 2 * EDGE, height + 2 * EDGE);
  cairo_t *cr = cairo_create (surface);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_translate (cr, EDGE, EDGE);
  GTK_WIDGET_GET_CLASS (cup)->snapshot (GTK_WIDGET (cup), snapshot);
  node = gtk_snapshot_free_to_node (snapshot);
  gsk_render_node_draw (node, cr);
  gsk_render_node_unref (node);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

/* How many pixels of the rows from..to of the cell are of the green of the keys, or nearly black. */
static guint
count (cairo_surface_t *surface, int from, int to, gboolean green)
{
  guint n = 0;

  for (int y = from + EDGE; y < to + EDGE; y++)
    for (int x = 0; x < cairo_image_surface_get_width (surface); x++)
      {
        const guint32 *row = (const guint32 *) (gpointer) (cairo_image_surface_get_data (surface)
                                                           + y * cairo_image_surface_get_stride (surface));
        int r = (row[x] >> 16) & 255, g = (row[x] >> 8) & 255, b = row[x] & 255;

        n += green ? g > r + 30 && g > b + 10 && r < 120 : r < 90 && g < 90 && b < 90;
      }
  return n;
}

/* The ring of the keys goes round the cup: where it is lower than its cell nothing is drawn above it. */
static void
test_ring (Room *room, gconstpointer data)
{
  AppCup *cup = cup_of (room, "14");
  cairo_surface_t *with, *without;

  app_cup_set_data (cup, data_new ("14", "?", .4));
  gtk_widget_unset_state_flags (GTK_WIDGET (cup), GTK_STATE_FLAG_FOCUS_VISIBLE);
  without = drawn (cup, APP_CUP_WIDTH, APP_CUP_HEIGHT);
  gtk_widget_set_state_flags (GTK_WIDGET (cup), GTK_STATE_FLAG_FOCUS_VISIBLE, FALSE);
  with = drawn (cup, APP_CUP_WIDTH, APP_CUP_HEIGHT);
  g_assert_cmpuint (count (without, -EDGE, APP_CUP_HEIGHT + EDGE, TRUE), ==, 0);
  g_assert_cmpuint (count (with, -EDGE, 14, TRUE), ==, 0);
  g_assert_cmpuint (count (with, 14, 20, TRUE), >, APP_CUP_WIDTH);
  g_assert_cmpuint (count (with, APP_CUP_HEIGHT + 2, APP_CUP_HEIGHT + EDGE, TRUE), ==, 0); /* the board */
  cairo_surface_destroy (without);
  cairo_surface_destroy (with);
}

/* On a small card what is too wide beside the number stands whole below it. */
static void
test_count_below (Room *room, gconstpointer data)
{
  AppCup *cup = cup_of (room, "14");
  cairo_surface_t *beside, *below;

  app_cup_set_small (cup, TRUE);
  app_cup_set_data (cup, data_new ("H1", "×9", 1));
  beside = drawn (cup, APP_CUP_SMALL_WIDTH, APP_CUP_SMALL_HEIGHT);
  app_cup_set_data (cup, data_new ("H12", "×~120", 1));
  below = drawn (cup, APP_CUP_SMALL_WIDTH, APP_CUP_SMALL_HEIGHT);
  g_assert_cmpuint (count (beside, 32, 48, FALSE), ==, 0);
  g_assert_cmpuint (count (below, 32, 48, FALSE), >, 30);
  cairo_surface_destroy (beside);
  cairo_surface_destroy (below);
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  ROOM ("/cup/ring", test_ring);
  ROOM ("/cup/count-below", test_count_below);
  return g_test_run ();
}
