/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-cup-draw.h — the shapes of a cup, used by the card and by its larger relatives. */
#pragma once

#include "app/app-cup.h"

typedef struct
{
  GdkRGBA text, dim, line, paper, accent, due, on_due, trouble, veil;
} AppInk;

void app_ink_lookup (GtkWidget *widget, AppInk *ink);

void app_draw_dot (cairo_t *cr, double x, double y, double radius, AppMealDot dot);
/* Moult bar from x to x + width, centred on y. */
void app_draw_moult_bar (cairo_t *cr, const AppInk *ink, double x, double y, double width,
                         double height, double today, double lo, double hi, double middle);
/* A mantis hanging head down from (x, y), its body `length` pixels long. */
void app_draw_mantis (cairo_t *cr, const GdkRGBA *color, double x, double y, double length);
void app_draw_lozenge (cairo_t *cr, const AppInk *ink, double cx, double cy, double half,
                       gboolean overdue);
