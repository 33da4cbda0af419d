/* SPDX-License-Identifier: GPL-3.0-or-later */
/* recipe.h — which pictures the finder is fitted and tested on: a seed says
 * everything. Seeds of fitting, calibration and test never overlap.
 */
#pragma once

#include "demo/demo-draw.h"
#include "imaging/img-pixels.h"
#include "style.h"

#define RECIPE_FIT_SEED 1000000
#define RECIPE_CALIBRATION_SEED 5000000
#define RECIPE_TEST_SEED 9000000
#define RECIPE_EMPTY_SEED 9500000
#define RECIPE_STYLE_SEED 9700000 /* tests of the styles; 10,000 for each */

/* Ways of drawing. */
typedef enum
{
  RECIPE_PLAIN,  /* as the demo draws */
  RECIPE_VARIED, /* demo-draw-vary.c */
  RECIPE_RELIEF, /* style.h, in its order */
  RECIPE_PEN,
  RECIPE_SIGNAL,
  RECIPE_PRINT, /* never fitted on */
  RECIPE_N_KINDS
} RecipeKind;

typedef struct
{
  DemoDrawOptions options;
  double mark_sd; /* each end, share of the axis */
  double axis[6]; /* two or three marks, upright pixels */
  int n_marks;
  gboolean beyond; /* an end is marked on the thorax or the tail feelers, now and then */
  gboolean empty;  /* no plates along the axis */
  gboolean aside;  /* an animal, but the axis lies across it or beside it */
  gboolean camera; /* spoiled as cameras and programs spoil pictures: recipe-camera.c */
  RecipeKind kind;
} Recipe;

/* level 1 … 5, or 0 for as chance will; empty: no animal in it. */
void recipe_choose (Recipe *recipe, guint64 seed, int level, gboolean empty, double mark_sd);
/* After recipe_choose: a far wider choice of everything. sutures: bits, 0 = all kinds. */
void recipe_vary (Recipe *recipe, guint32 sutures);
/* After recipe_choose: another way of drawing altogether. */
void recipe_style (Recipe *recipe, RecipeKind kind);
/* Draws it and sets the marks, each end off by mark_sd along and across. */
DemoDrawing *recipe_draw (Recipe *recipe);
/* Sets other marks; turn 0 are those of recipe_draw. */
void recipe_mark (Recipe *recipe, const DemoDrawing *drawing, int turn);
ImgPixels *recipe_pixels (const DemoDrawing *drawing);

/* Light, sharpening, resampling, noise, JPEG; in place. */
void recipe_camera (DemoDrawing *drawing, guint64 seed);
