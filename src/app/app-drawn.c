/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-drawn.c — see app-drawn.h. */
#include "app/app-drawn.h"

G_DEFINE_ABSTRACT_TYPE (AppDrawn, app_drawn, GTK_TYPE_WIDGET)

static void
app_drawn_measure (GtkWidget *widget,
                   GtkOrientation orientation,
                   int for_size,
                   int *minimum,
                   int *natural,
                   int *minimum_baseline,
                   int *natural_baseline)
{
  *minimum_baseline = *natural_baseline = -1;
  APP_DRAWN_GET_CLASS (widget)->size (APP_DRAWN (widget), orientation, minimum, natural);
}

static void
app_drawn_class_init (AppDrawnClass *klass)
{
  GTK_WIDGET_CLASS (klass)->measure = app_drawn_measure;
}

static void
app_drawn_init (AppDrawn *self)
{
}
