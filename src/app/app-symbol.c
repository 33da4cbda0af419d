/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-symbol.c — renders data/symbols/NAME.svg; see app-symbol.h.
 *
 * Invariant: the cache only grows by what was shown; twenty symbols in a few
 * sizes and colours are some hundred small textures at most. */
#include "app/app-symbol.h"

#include <librsvg/rsvg.h>

struct _AppSymbol
{
  AppDrawn parent_instance;

  char *name;
  int size;
};

G_DEFINE_FINAL_TYPE (AppSymbol, app_symbol, APP_TYPE_DRAWN)

static GHashTable *textures;

static GdkTexture *
texture_from_surface (cairo_surface_t *surface)
{
  int width = cairo_image_surface_get_width (surface);
  int height = cairo_image_surface_get_height (surface);
  int stride = cairo_image_surface_get_stride (surface);
  g_autoptr (GBytes) bytes
    = g_bytes_new (cairo_image_surface_get_data (surface), (gsize) stride * (gsize) height);

  return gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, bytes, (gsize) stride);
}

static RsvgHandle *
load (const char *name, const GdkRGBA *color)
{
  g_autofree char *path = g_strdup_printf ("/io/github/mantidary/symbols/%s.svg", name);
  g_autoptr (GBytes) data = g_resources_lookup_data (path, 0, NULL);
  g_autofree char *css = g_strdup_printf ("* { color: #%02x%02x%02x; }",
                                          (guint) (color->red * 255 + .5),
                                          (guint) (color->green * 255 + .5),
                                          (guint) (color->blue * 255 + .5));
  RsvgHandle *handle;
  gsize length;
  const guint8 *bytes;

  if (data == NULL)
    return NULL;
  bytes = g_bytes_get_data (data, &length);
  handle = rsvg_handle_new_from_data (bytes, length, NULL);
  if (handle != NULL && !rsvg_handle_set_stylesheet (handle, (const guint8 *) css, strlen (css), NULL))
    g_clear_object (&handle);
  return handle;
}

static GdkTexture *
render (const char *name, int pixels, const GdkRGBA *color)
{
  RsvgHandle *handle = load (name, color);
  RsvgRectangle viewport = { 0, 0, pixels, pixels };
  GdkTexture *texture = NULL;
  cairo_surface_t *surface;
  cairo_t *cr;

  if (handle == NULL)
    return NULL;
  surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, pixels, pixels);
  cr = cairo_create (surface);
  if (rsvg_handle_render_document (handle, cr, &viewport, NULL))
    {
      cairo_surface_flush (surface);
      texture = texture_from_surface (surface);
    }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  g_object_unref (handle);
  return texture;
}

void
app_symbol_snapshot (GtkSnapshot *snapshot,
                     const char *name,
                     float x,
                     float y,
                     float size,
                     const GdkRGBA *color,
                     int scale)
{
  int pixels = MAX (1, (int) (size * (float) scale + .5f));
  g_autofree char *key = NULL;
  GdkTexture *texture;

  if (name == NULL || name[0] == '\0')
    return;
  if (textures == NULL)
    textures = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  key = g_strdup_printf ("%s/%d/%02x%02x%02x",
                         name,
                         pixels,
                         (guint) (color->red * 255 + .5),
                         (guint) (color->green * 255 + .5),
                         (guint) (color->blue * 255 + .5));
  texture = g_hash_table_lookup (textures, key);
  if (texture == NULL)
    {
      texture = render (name, pixels, color);
      if (texture == NULL)
        return;
      g_hash_table_insert (textures, g_steal_pointer (&key), texture);
    }
  gtk_snapshot_append_texture (snapshot, texture, &GRAPHENE_RECT_INIT (x, y, size, size));
}

static void
size (AppDrawn *drawn, GtkOrientation orientation, int *minimum, int *natural)
{
  *minimum = *natural = APP_SYMBOL (drawn)->size;
}

static void
app_symbol_draw (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppSymbol *self = APP_SYMBOL (widget);
  GdkRGBA color;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &color);
  app_symbol_snapshot (snapshot,
                       self->name,
                       (float) (gtk_widget_get_width (widget) - self->size) / 2,
                       (float) (gtk_widget_get_height (widget) - self->size) / 2,
                       (float) self->size,
                       &color,
                       gtk_widget_get_scale_factor (widget));
}

static void
app_symbol_finalize (GObject *object)
{
  g_free (APP_SYMBOL (object)->name);
  G_OBJECT_CLASS (app_symbol_parent_class)->finalize (object);
}

static void
app_symbol_class_init (AppSymbolClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = app_symbol_finalize;
  APP_DRAWN_CLASS (klass)->size = size;
  widget_class->snapshot = app_symbol_draw;
  gtk_widget_class_set_css_name (widget_class, "symbol");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
app_symbol_init (AppSymbol *self)
{
  self->size = 16;
}

GtkWidget *
app_symbol_new (const char *name, int size)
{
  AppSymbol *self = g_object_new (APP_TYPE_SYMBOL, NULL);

  self->size = size;
  app_symbol_set_name (self, name);
  return GTK_WIDGET (self);
}

void
app_symbol_set_size (AppSymbol *self, int size)
{
  g_return_if_fail (APP_IS_SYMBOL (self));
  self->size = size;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

void
app_symbol_set_name (AppSymbol *self, const char *name)
{
  g_return_if_fail (APP_IS_SYMBOL (self));

  if (g_strcmp0 (self->name, name) == 0)
    return;
  g_free (self->name);
  self->name = g_strdup (name);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
