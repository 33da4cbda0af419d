/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-cup.h — one cup on a shelf board: a single widget that draws itself.
 *
 * It knows no rules: what it shows stands in an AppCupData, made from a
 * DeskSubject in app-cup-data.c. State is told by lozenge, veil and notch
 * (shape and place) before colour.
 */
#pragma once

#include "app/app-drawn.h"
#include "app/app-types.h"

typedef enum
{
  APP_MEAL_REFUSED,  /* hollow */
  APP_MEAL_OFFERED,  /* half: put in, not seen eaten */
  APP_MEAL_PROBABLY, /* three quarters: gone at the next look */
  APP_MEAL_TAKEN     /* full: seen eaten */
} AppMealDot;
AppMealDot app_meal_dot (const CoreMeal *meal);

#define APP_CUP_DOTS 5

typedef struct
{
  CoreId id;
  CoreSubjectKind kind;
  char *number;
  char *sex_sign;       /* "♂" "♀" "♂?" "♀?" "?"; of a lot how many: "×96" "×~120" */
  char *species;        /* common name or "kind unknown" */
  char *stage;          /* "L5", "about L5", "adult since 3 Sep" */
  char *stage_brief;    /* "L5", "~L5", "adult": before the kind where room is short */
  char *veil_words;     /* "free again Sat", NULL = not to be left alone */
  char *trouble;        /* "thin, refused twice", NULL = none */
  const char *symbol;   /* sign of what is due, NULL = nothing */
  gboolean overdue;
  gboolean come_forward;/* not looked at for four days or more */
  int n_dots;
  AppMealDot dots[APP_CUP_DOTS];
  gboolean has_bar;     /* moult bar; fractions 0…1 of the track */
  double today, band_lo, band_hi, middle;
  double cup_height;    /* .4 … 1 of the cell, by true relative height */
  double body;          /* expected body length ÷ inner height, NAN unknown */
  int n_drawn;          /* how many mantises hang in it: a lot is more than one */
  char *label;          /* all of it in words, for assistive technology */
} AppCupData;

AppCupData *app_cup_data_new (Desk *desk, DeskSubject *subject);
void app_cup_data_free (AppCupData *data);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (AppCupData, app_cup_data_free)

#define APP_TYPE_CUP (app_cup_get_type ())
G_DECLARE_FINAL_TYPE (AppCup, app_cup, APP, CUP, AppDrawn)

#define APP_CUP_WIDTH 168
#define APP_CUP_HEIGHT 132
#define APP_CUP_SMALL_WIDTH 78
#define APP_CUP_SMALL_HEIGHT 66

GtkWidget *app_cup_new (void);
void app_cup_set_data (AppCup *self, AppCupData *data); /* takes ownership */
const AppCupData *app_cup_get_data (AppCup *self);
void app_cup_set_small (AppCup *self, gboolean small);
void app_cup_set_chosen (AppCup *self, gboolean chosen);
/* What the round in the making says of it: its letters on a small card, its words on a full one.
 * NULL = nothing. */
void app_cup_set_mark (AppCup *self, const char *letters, const char *words);
