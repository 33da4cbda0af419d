/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-columns.c — see app-columns.h. libadwaita 1.2 has no breakpoints, hence a container of our own.
 *
 * All parts are stacks: wide, the first and the third part are one and the second is the other;
 * narrow, all three are one, in their order. */
#include "app/app-columns.h"

#include "app/app-widgets.h"

#define COLUMN_GAP 48
#define STACK_GAP 18

struct _AppColumns
{
  GtkWidget parent_instance;

  int turn;
  double share;
};

G_DEFINE_FINAL_TYPE (AppColumns, app_columns, GTK_TYPE_WIDGET)

enum
{
  PROP_0,
  PROP_TURN,
  PROP_SHARE,
  N_PROPS
};
static GParamSpec *props[N_PROPS];

/* Where the nth part lies: which column, and how wide that is. */
static int
column_of (AppColumns *self, int width, guint part, int *wide)
{
  int first = (int) ((width - COLUMN_GAP) * self->share);

  if (width < self->turn)
    *wide = width;
  else
    *wide = part == 1 ? width - COLUMN_GAP - first : first;
  return width >= self->turn && part == 1 ? 1 : 0;
}

/* Adds a part to the two columns' heights. */
static void
stack_on (int heights[2], int column, int high)
{
  heights[column] += high + (heights[column] > 0 ? STACK_GAP : 0);
}

static void
measure_height (AppColumns *self, int width, int *minimum, int *natural)
{
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self));
  int minima[2] = { 0, 0 };
  int naturals[2] = { 0, 0 };

  for (guint i = 0; child != NULL; child = gtk_widget_get_next_sibling (child), i++)
    {
      int wide, min, nat;
      int column = column_of (self, width, i, &wide);

      gtk_widget_measure (child, GTK_ORIENTATION_VERTICAL, wide, &min, &nat, NULL, NULL);
      stack_on (minima, column, min);
      stack_on (naturals, column, nat);
    }
  *minimum = MAX (minima[0], minima[1]);
  *natural = MAX (naturals[0], naturals[1]);
}

static void
app_columns_measure (GtkWidget *widget,
                     GtkOrientation orientation,
                     int for_size,
                     int *minimum,
                     int *natural,
                     int *minimum_baseline,
                     int *natural_baseline)
{
  AppColumns *self = APP_COLUMNS (widget);

  *minimum_baseline = *natural_baseline = -1;
  if (orientation == GTK_ORIENTATION_VERTICAL)
    {
      measure_height (self, for_size < 0 ? self->turn : for_size, minimum, natural);
      return;
    }
  *minimum = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      int min;

      gtk_widget_measure (child, orientation, -1, &min, NULL, NULL, NULL);
      *minimum = MAX (*minimum, min);
    }
  *natural = MAX (*minimum, self->turn);
}

static GtkSizeRequestMode
app_columns_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

/* Of three, only the first has one under it when they stand side by side. */
static gboolean
ends_column (GtkWidget *child, gboolean wide)
{
  GtkWidget *next = gtk_widget_get_next_sibling (child);

  return next == NULL || (wide && (gtk_widget_get_prev_sibling (child) != NULL || gtk_widget_get_next_sibling (next) == NULL));
}

static void
app_columns_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  AppColumns *self = APP_COLUMNS (widget);
  GtkWidget *child = gtk_widget_get_first_child (widget);
  int heights[2] = { 0, 0 };

  for (guint i = 0; child != NULL; child = gtk_widget_get_next_sibling (child), i++)
    {
      int wide, high, top;
      int column = column_of (self, width, i, &wide);

      gtk_widget_measure (child, GTK_ORIENTATION_VERTICAL, wide, NULL, &high, NULL, NULL);
      stack_on (heights, column, high);
      top = heights[column] - high;
      if (ends_column (child, width >= self->turn)) /* takes what is left */
        high = MAX (1, height - top);
      gtk_widget_size_allocate (child, &(GtkAllocation){ column == 1 ? width - wide : 0, top, wide, high }, -1);
    }
}

static void
app_columns_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  AppColumns *self = APP_COLUMNS (object);

  if (id == PROP_TURN)
    self->turn = g_value_get_int (value);
  else if (id == PROP_SHARE)
    self->share = g_value_get_double (value);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
app_columns_dispose (GObject *object)
{
  app_unparent_all (object);
  G_OBJECT_CLASS (app_columns_parent_class)->dispose (object);
}

static void
app_columns_class_init (AppColumnsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = app_columns_dispose;
  G_OBJECT_CLASS (klass)->set_property = app_columns_set_property;
  props[PROP_TURN] = g_param_spec_int ("turn", NULL, NULL, 1, 10000, 900, G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS);
  props[PROP_SHARE] = g_param_spec_double ("share", NULL, NULL, .1, .9, .5, G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, props);
  widget_class->measure = app_columns_measure;
  widget_class->get_request_mode = app_columns_request_mode;
  widget_class->size_allocate = app_columns_size_allocate;
}

static void
app_columns_init (AppColumns *self)
{
  self->turn = 900;
  self->share = .5;
}

GtkWidget *
app_columns_new (GtkWidget *first, GtkWidget *second, int turn, double share)
{
  GtkWidget *self = g_object_new (APP_TYPE_COLUMNS, "turn", turn, "share", share, NULL);

  gtk_widget_set_parent (first, self);
  gtk_widget_set_parent (second, self);
  return self;
}
