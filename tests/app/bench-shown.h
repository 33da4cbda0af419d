/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-shown.h — the widgets of the photo bench in a window, over a model that stands in for the real one. */
#pragma once

#include "app/app-canvas.h"
#include "app/app-count.h"
#include "app/app-marks.h"
#include "app/app-steps.h"
#include "app/app-strip.h"
#include "bench-double.h"
#include "desk-fixture.h"

typedef struct
{
  Fixture journal;
  DeskSubject *animal;
  BenchModel *model;
  GtkWidget *window;
  AppCanvas *canvas; /* held */
  AppMarks *marks;   /* held */
  AppSteps *steps;   /* held */
  AppStrip *strip;   /* held */
  AppCount *count;   /* held */
} Bench;

gboolean bench_shown_init (int *argc, char ***argv); /* FALSE: there is no display, and it was said */
void settle (void);
void make_journal (Bench *bench);
void set_up (Bench *bench, gconstpointer data);
void tear_down (Bench *bench, gconstpointer data);
void assert_describes (Bench *bench, const char *part);
gboolean says (GtkWidget *widget, const char *part);
void place_axis (Bench *bench);
