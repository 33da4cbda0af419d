/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-wrap.c — see app-wrap.h. Each child keeps its natural width, so that chips of unlike words
 * stand close; a flow box would set them in columns. */
#include "app/app-wrap.h"

#include "app/app-widgets.h"

#define GAP 6

struct _AppWrap
{
  GtkWidget parent_instance;
};

G_DEFINE_FINAL_TYPE (AppWrap, app_wrap, GTK_TYPE_WIDGET)

/* Puts the children into rows of `width`; returns the height of all. allocate: also places them. */
static int
lay_out (GtkWidget *widget, int width, gboolean allocate)
{
  gboolean mirrored = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  int x = 0, y = 0, row = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      int minimum, w, h;

      if (!gtk_widget_should_layout (child))
        continue;
      gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, &w, NULL, NULL);
      w = MAX (minimum, MIN (w, width));
      gtk_widget_measure (child, GTK_ORIENTATION_VERTICAL, w, NULL, &h, NULL, NULL);
      if (x > 0 && x + w > width)
        {
          y += row + GAP;
          x = row = 0;
        }
      if (allocate)
        gtk_widget_size_allocate (child, &(GtkAllocation) { mirrored ? width - x - w : x, y, w, h }, -1);
      x += w + GAP;
      row = MAX (row, h);
    }
  return y + row;
}

static void
measure (GtkWidget *widget,
         GtkOrientation orientation,
         int for_size,
         int *minimum,
         int *natural,
         int *minimum_baseline,
         int *natural_baseline)
{
  int widest = 0, all = 0;

  *minimum_baseline = *natural_baseline = -1;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      int least, w;

      if (!gtk_widget_should_layout (child))
        continue;
      gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &least, &w, NULL, NULL);
      widest = MAX (widest, least);
      all += w + (all > 0 ? GAP : 0);
    }
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = widest;
      *natural = MAX (widest, all);
    }
  else
    *minimum = *natural = lay_out (widget, for_size < 0 ? MAX (widest, all) : MAX (widest, for_size), FALSE);
}

static void
size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  lay_out (widget, width, TRUE);
}

static GtkSizeRequestMode
request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
dispose (GObject *object)
{
  app_unparent_all (object);
  G_OBJECT_CLASS (app_wrap_parent_class)->dispose (object);
}

static void
app_wrap_class_init (AppWrapClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  widget_class->measure = measure;
  widget_class->size_allocate = size_allocate;
  widget_class->get_request_mode = request_mode;
  gtk_widget_class_set_css_name (widget_class, "wrap");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
app_wrap_init (AppWrap *self)
{
}

void
app_wrap_append (AppWrap *self, GtkWidget *child)
{
  g_return_if_fail (APP_IS_WRAP (self));
  gtk_widget_set_parent (child, GTK_WIDGET (self));
}
