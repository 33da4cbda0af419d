/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-widgets.c — see app-widgets.h. libadwaita 1.2 has no breakpoints: AppColumns is ours. */
#include "app/app-widgets.h"

GtkLabel *
app_text (GtkWidget *box, const char *text, const char *css)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_natural_wrap_mode (GTK_LABEL (label), GTK_NATURAL_WRAP_WORD);
  if (css != NULL)
    gtk_widget_add_css_class (label, css);
  gtk_box_append (GTK_BOX (box), label);
  return GTK_LABEL (label);
}

GtkLabel *
app_heading (GtkWidget *box, const char *text)
{
  GtkLabel *label = app_text (box, text, "dim");

  gtk_widget_set_margin_top (GTK_WIDGET (label), 12);
  return label;
}

void
app_hair (GtkWidget *box)
{
  GtkWidget *line = gtk_separator_new (GTK_ORIENTATION_HORIZONTAL);

  gtk_widget_add_css_class (line, "hair");
  gtk_widget_set_margin_top (line, 12);
  gtk_box_append (GTK_BOX (box), line);
}

void
app_box_empty (GtkBox *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (box))) != NULL)
    gtk_box_remove (box, child);
}

/* ---- columns ---- */

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

/* Its two children, also as a template gives them. */
static GtkWidget *
first_of (AppColumns *self)
{
  return gtk_widget_get_first_child (GTK_WIDGET (self));
}

static GtkWidget *
second_of (AppColumns *self)
{
  return gtk_widget_get_last_child (GTK_WIDGET (self));
}

static int
first_width (AppColumns *self, int width)
{
  return (int) ((width - COLUMN_GAP) * self->share);
}

static void
measure_height (AppColumns *self, int width, int *minimum, int *natural)
{
  int min1, nat1, min2, nat2;

  if (width >= self->turn)
    {
      gtk_widget_measure (first_of (self), GTK_ORIENTATION_VERTICAL, first_width (self, width), &min1, &nat1, NULL, NULL);
      gtk_widget_measure (second_of (self), GTK_ORIENTATION_VERTICAL, width - COLUMN_GAP - first_width (self, width), &min2,
                          &nat2, NULL, NULL);
      *minimum = MAX (min1, min2);
      *natural = MAX (nat1, nat2);
      return;
    }
  gtk_widget_measure (first_of (self), GTK_ORIENTATION_VERTICAL, width, &min1, &nat1, NULL, NULL);
  gtk_widget_measure (second_of (self), GTK_ORIENTATION_VERTICAL, width, &min2, &nat2, NULL, NULL);
  *minimum = min1 + min2 + STACK_GAP;
  *natural = nat1 + nat2 + STACK_GAP;
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
  int min1, nat1, min2, nat2;

  *minimum_baseline = *natural_baseline = -1;
  if (orientation == GTK_ORIENTATION_VERTICAL)
    {
      measure_height (self, for_size < 0 ? self->turn : for_size, minimum, natural);
      return;
    }
  gtk_widget_measure (first_of (self), orientation, -1, &min1, &nat1, NULL, NULL);
  gtk_widget_measure (second_of (self), orientation, -1, &min2, &nat2, NULL, NULL);
  *minimum = MAX (min1, min2);
  *natural = MAX (*minimum, self->turn);
}

static GtkSizeRequestMode
app_columns_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
app_columns_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  AppColumns *self = APP_COLUMNS (widget);
  int first = first_width (self, width);
  int high;

  if (width >= self->turn)
    {
      gtk_widget_size_allocate (first_of (self), &(GtkAllocation){ 0, 0, first, height }, -1);
      gtk_widget_size_allocate (second_of (self),
                                &(GtkAllocation){ first + COLUMN_GAP, 0, width - first - COLUMN_GAP, height }, -1);
      return;
    }
  gtk_widget_measure (first_of (self), GTK_ORIENTATION_VERTICAL, width, NULL, &high, NULL, NULL);
  gtk_widget_size_allocate (first_of (self), &(GtkAllocation){ 0, 0, width, high }, -1);
  gtk_widget_size_allocate (second_of (self),
                            &(GtkAllocation){ 0, high + STACK_GAP, width, MAX (1, height - high - STACK_GAP) }, -1);
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
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
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

void
app_template_dispose (GtkWidget *widget, GType type)
{
  GtkWidget *child;

  gtk_widget_dispose_template (widget, type);
  while ((child = gtk_widget_get_first_child (widget)) != NULL)
    gtk_widget_unparent (child);
}
