/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-growth.c — see app-growth.h.
 *
 * Of each picture the part round its marks is drawn, so that the animal is compared and not the
 * table that it stood on; all stand on one line. */
#include "app/app-growth.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-thumb.h"
#include "app/app-view.h"

#define HEIGHT 220 /* of the largest, logical pixels */
#define CAPTION 42
#define GAP 18
#define BAR 8 /* the scale below */

typedef struct
{
  DeskPicture picture;
  GdkTexture *texture; /* owned, NULL until it is there */
  char *caption;       /* owned */
} Column;

struct _AppGrowth
{
  AppDrawn parent_instance;

  GArray *columns;           /* owned, Column */
  GCancellable *cancellable; /* owned */
};

G_DEFINE_FINAL_TYPE (AppGrowth, app_growth, APP_TYPE_DRAWN)

static void
column_clear (gpointer data)
{
  Column *self = data;

  g_clear_object (&self->texture);
  g_free (self->caption);
}

static const Column *
nth (AppGrowth *self, guint i)
{
  return &g_array_index (self->columns, Column, i);
}

/* Millimetres of the part that is drawn. */
static double
width_mm (const Column *column)
{
  return column->picture.part.width / column->picture.px_per_mm;
}

static double
height_mm (const Column *column)
{
  return column->picture.part.height / column->picture.px_per_mm;
}

/* Logical pixels a millimetre, for a given width of all; 0 = nothing to draw. */
static double
scale_of (AppGrowth *self, double width)
{
  double tallest = 0, all = 0, gaps = (double) (self->columns->len > 0 ? self->columns->len - 1 : 0) * GAP;

  for (guint i = 0; i < self->columns->len; i++)
    {
      tallest = MAX (tallest, height_mm (nth (self, i)));
      all += width_mm (nth (self, i));
    }
  return tallest > 0 && width > gaps ? MIN (HEIGHT / tallest, (width - gaps) / all) : 0;
}

/* ---- drawing ---- */

/* The whole texture, placed so that the part comes to `room`. */
static void
draw_part (GtkSnapshot *snapshot, const Column *column, const graphene_rect_t *room)
{
  const DeskPicture *picture = &column->picture;
  double scale = room->size.width / picture->part.width;
  graphene_rect_t all
    = GRAPHENE_RECT_INIT ((float) (room->origin.x - picture->part.x * scale), (float) (room->origin.y - picture->part.y * scale),
                          (float) (picture->width * scale), (float) (picture->height * scale));

  gtk_snapshot_push_clip (snapshot, room);
  gtk_snapshot_append_texture (snapshot, column->texture, &all);
  gtk_snapshot_pop (snapshot);
}

static void
draw_words (AppGrowth *self, GtkSnapshot *snapshot, const char *text, double x, double y, double width)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
  GdkRGBA ink;

  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (self)), &ink);
  pango_layout_set_width (layout, (int) (MAX (width, 48) * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_height (layout, -2);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) x, (float) y));
  gtk_snapshot_append_layout (snapshot, layout, &ink);
  gtk_snapshot_restore (snapshot);
}

/* 1, 2 or 5 times a power of ten, about a tenth of the width. */
static double
bar_mm (double all_mm)
{
  double step = pow (10, floor (log10 (all_mm / 10)));

  return all_mm / 10 >= 5 * step ? 5 * step : all_mm / 10 >= 2 * step ? 2 * step : step;
}

static void
draw_bar (AppGrowth *self, GtkSnapshot *snapshot, double scale, double y)
{
  double mm = bar_mm (gtk_widget_get_width (GTK_WIDGET (self)) / scale);
  /* Translators: the length of the scale bar */
  g_autofree char *text = g_strdup_printf (C_ ("gallery", "%g mm"), mm);
  GdkRGBA ink;

  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (self)), &ink);
  gtk_snapshot_append_color (snapshot, &ink, &GRAPHENE_RECT_INIT (0, (float) (y + BAR), (float) (mm * scale), 2));
  draw_words (self, snapshot, text, mm * scale + 6, y, 120);
}

static void
app_growth_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppGrowth *self = APP_GROWTH (widget);
  double scale = scale_of (self, gtk_widget_get_width (widget)), x = 0;

  if (scale <= 0)
    return;
  for (guint i = 0; i < self->columns->len; i++)
    {
      const Column *column = nth (self, i);
      double width = width_mm (column) * scale, height = height_mm (column) * scale;
      graphene_rect_t room = GRAPHENE_RECT_INIT ((float) x, (float) (HEIGHT - height), (float) width, (float) height);

      if (column->texture != NULL)
        draw_part (snapshot, column, &room);
      draw_words (self, snapshot, column->caption, x, HEIGHT + 3, width + GAP / 2.0);
      x += width + GAP;
    }
  draw_bar (self, snapshot, scale, HEIGHT + CAPTION);
}

static void
size (AppDrawn *drawn, GtkOrientation orientation, int *minimum, int *natural)
{
  gboolean across = orientation == GTK_ORIENTATION_HORIZONTAL;

  *minimum = across ? 180 : HEIGHT + CAPTION + 2 * BAR + 12;
  *natural = across ? 720 : *minimum;
}

/* ---- loading ---- */

typedef struct
{
  AppGrowth *self; /* a reference */
  guint nth;
} Loading;

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Loading *loading = data;
  g_autoptr (AppGrowth) self = loading->self;
  GdkTexture *texture = app_thumb_load_finish (result, NULL);
  guint i = loading->nth;

  g_free (loading);
  if (texture == NULL) /* cancelled, or it cannot be shown: its place stays empty */
    return;
  g_array_index (self->columns, Column, i).texture = texture;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
empty (AppGrowth *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_array_set_size (self->columns, 0);
}

static char *
caption_of (Desk *desk, const DeskPicture *picture)
{
  WordsView view = app_view (desk);
  g_autofree char *stage = words_shown_stage (&view, &picture->shows);
  g_autofree char *day = words_day (&view, picture->day, WORDS_DAY_SHORT);

  return g_strdup_printf ("%s · %s", stage, day);
}

void
app_growth_set (AppGrowth *self, Desk *desk, const GArray *pictures, const GArray *chosen)
{
  GString *label = g_string_new (NULL);

  g_return_if_fail (APP_IS_GROWTH (self));
  empty (self);
  self->cancellable = g_cancellable_new ();
  for (guint i = 0; i < chosen->len; i++)
    {
      Column column = { .picture = g_array_index (pictures, DeskPicture, g_array_index (chosen, guint, i)) };
      Loading *loading = g_new (Loading, 1);

      column.caption = caption_of (desk, &column.picture);
      g_string_append_printf (label, "%s%s", i > 0 ? "; " : "", column.caption);
      g_array_append_val (self->columns, column);
      *loading = (Loading) { g_object_ref (self), i };
      app_thumb_load_async (desk, column.picture.photo, self->cancellable, loaded_cb, loading);
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_ ("gallery", "Growth at equal scale"), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  label->str, -1);
  g_string_free (label, TRUE);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
dispose (GObject *object)
{
  empty (APP_GROWTH (object));
  G_OBJECT_CLASS (app_growth_parent_class)->dispose (object);
}

static void
finalize (GObject *object)
{
  g_array_unref (APP_GROWTH (object)->columns);
  G_OBJECT_CLASS (app_growth_parent_class)->finalize (object);
}

static void
app_growth_class_init (AppGrowthClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dispose;
  G_OBJECT_CLASS (klass)->finalize = finalize;
  GTK_WIDGET_CLASS (klass)->snapshot = app_growth_snapshot;
  APP_DRAWN_CLASS (klass)->size = size;
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_IMG);
}

static void
app_growth_init (AppGrowth *self)
{
  self->columns = g_array_new (FALSE, FALSE, sizeof (Column));
  g_array_set_clear_func (self->columns, column_clear);
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
}

GtkWidget *
app_growth_new (void)
{
  return g_object_new (APP_TYPE_GROWTH, NULL);
}
