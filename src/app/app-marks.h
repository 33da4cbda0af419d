/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-marks.h — the marks and boundaries over the canvas of the bench.
 *
 * Keys: Tab or ] the next, Shift+Tab or [ the one before, Page Up/Down the same;
 * arrows move the chosen one by a picture pixel (Shift: ten; Ctrl+Shift: a
 * twentieth of what is in view), a boundary along the axis; Insert puts a boundary into the widest plate (while the axis is
 * marked: a bend); Delete takes the chosen one out; Enter places the next missing
 * mark in the middle of the view; while the axis is marked S places what the
 * program takes for the abdomen, X changes base and tip. Mouse: drag handles, click to place a missing
 * mark, double click or Ctrl+click puts a boundary in. The accessible description
 * lists all of it and is brought up to date with every change.
 */
#pragma once

#include "app/app-canvas.h"
#include "desk/bench-model.h"

typedef enum
{
  APP_MARK_NONE,
  APP_MARK_POINT,   /* index: a BenchMark */
  APP_MARK_BOUNDARY /* index into the model's boundaries */
} AppMarkKind;

typedef struct
{
  AppMarkKind kind;
  int index;
} AppMarkRef;

#define APP_TYPE_MARKS (app_marks_get_type ())
G_DECLARE_FINAL_TYPE (AppMarks, app_marks, APP, MARKS, GtkWidget)

/* To be set as the overlay of `canvas`, which it borrows. */
GtkWidget *app_marks_new (AppCanvas *canvas);
void app_marks_set_model (AppMarks *self, BenchModel *model); /* may be NULL */
AppMarkRef app_marks_chosen (AppMarks *self);
/* "Chosen: the base." or "Chosen: line 3."; NULL = none is. */
char *app_marks_chosen_said (AppMarks *self);
/* "chosen-changed" is emitted when it was another. */
void app_marks_choose (AppMarks *self, AppMarkRef ref);
/* What Enter would place now; FALSE when nothing needed is missing. */
gboolean app_marks_missing (AppMarks *self, BenchMark *mark);
/* The same key as pressed on the widget; TRUE when it was used. */
gboolean app_marks_key (AppMarks *self, guint keyval, GdkModifierType state);
/* All that it shows, in words. */
char *app_marks_describe (AppMarks *self);
const char *app_mark_name (BenchMark mark); /* "base" */
