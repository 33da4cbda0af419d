/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-weeks-private.h — where things lie in a calendar of weeks, and how they are drawn. */
#pragma once

#include "app/app-cup-draw.h"
#include "app/app-weeks.h"

#define WEEKS_HEAD 27  /* names of the days, which do not scroll */
#define WEEKS_DATE 27  /* the numbers of the days */
#define WEEKS_LANE 19
#define WEEKS_BAND 16  /* of a lane the band */
#define WEEKS_SIGNS 22 /* one line of signs */
#define WEEKS_FOOT 9

typedef struct
{
  int y, high; /* below the head, before scrolling */
  int lines;   /* of signs */
} AppWeekBox;

typedef struct
{
  GtkWidget *widget;
  GtkSnapshot *snapshot;
  const DeskWeeks *weeks;
  const WordsView *view;
  AppInk ink;
  GdkRGBA hair;
  int width;
  double scroll;
  CoreDay chosen;
  gboolean focus;
} AppWeeksFrame;

/* As many signs of a day as one line of a column holds. */
int app_weeks_signs_in (int width);
typedef struct
{
  CoreTaskKind kind;
  guint n;
} AppWeeksSign;

/* What is drawn of a day, in that order; one sign for what is done with the same thing in the hand. */
int app_weeks_signs (const DeskWeekDay *day, AppWeeksSign signs[CORE_N_TASKS]);
void app_weeks_draw_head (const AppWeeksFrame *frame);
void app_weeks_draw_week (const AppWeeksFrame *frame, guint nth, const AppWeekBox *box);
/* The band at (x, y) of a week, y from its top; NULL = none. */
const DeskBand *app_weeks_band_at (const DeskWeeks *weeks, guint nth, int width, double x, double y);
