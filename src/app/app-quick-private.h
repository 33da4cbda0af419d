/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-quick-private.h — shared by app-quick*.c only. */
#pragma once

#include "app/app-quick.h"
#include "words/words.h"

typedef enum
{
  APP_QUICK_ATE,
  APP_QUICK_PUT_IN,
  APP_QUICK_REFUSED,
  APP_QUICK_GONE,
  APP_QUICK_MOULTED,
  APP_QUICK_MISTED,
  APP_QUICK_LOOKED,
  APP_QUICK_BELLY,
  APP_QUICK_SIGN,
  APP_QUICK_TROUBLE,
  APP_QUICK_NOTE,
  APP_QUICK_PHOTO,
  APP_QUICK_COUNT,
  APP_QUICK_MORE,
  APP_N_QUICK
} AppQuickWhat;

struct _AppQuick
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkWidget *outer;
  GtkWidget *row;
  GtkDropDown *prey;      /* the first row: not said */
  GtkSpinButton *number;  /* 0: not said */
  GtkWidget *caution;     /* what the chosen prey brings with it */
  GtkWidget *second; /* the one question */
  gboolean asks_more; /* it is what "More…" offers: its letters count before those of the first row */
  GtkWidget *buttons[APP_N_QUICK];

  /* Weak: what had the keys before the question, and gets them back */
  GtkWidget *came_from;

  /* Owned */
  Desk *desk;
  DeskSubject *subject;
  char *warning; /* to be said with the meal that is being written */
};

/* app-quick.c: one entry of the subject is written and said; `pairs` as on the command line. */
void _app_quick_record (AppQuick *self, const char *kind, const char *const *pairs);
void _app_quick_record_one (AppQuick *self, const char *kind, const char *key, const char *value);

/* app-quick-ask.c: the second row, which asks one question. */
void _app_quick_ask_init (AppQuick *self);
void _app_quick_ask (AppQuick *self, AppQuickWhat what);
void _app_quick_ask_end (AppQuick *self);
gboolean _app_quick_more_key (AppQuick *self, gunichar letter); /* TRUE when it meant something */

/* app-quick-meal.c: what was fed. */
void _app_quick_meal_init (AppQuick *self, GtkWidget *label);
void _app_quick_meal_propose (AppQuick *self);
void _app_quick_meal_refresh (AppQuick *self); /* the caution: one may have been switched off */
void _app_quick_meal_record (AppQuick *self, const char *outcome);
