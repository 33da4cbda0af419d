/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs-private.h — rows that several forms share; app-dialogs*.c only. */
#pragma once

#include "app/app-form.h"

/* Choices that grow: what is shown, and what is written. */
typedef struct
{
  GPtrArray *names;
  GPtrArray *values;
} AppChoice;

void _app_choice_init (AppChoice *choice);
void _app_choice_add (AppChoice *choice, const char *name, const char *value);
/* Frees what the choice holds. */
GtkWidget *_app_choice_row (AppChoice *choice, AppForm *form, const char *key, const char *label, guint selected);

void _app_row_species (AppForm *form, Desk *desk, const char *now);
void _app_row_place (AppForm *form, Desk *desk, CoreId now);
void _app_row_scheme (AppForm *form); /* of what the seller said */
void _app_row_cause (AppForm *form);
/* sold, given away, … */
void _app_row_how (AppForm *form);
/* counted / about */
void _app_row_counted (AppForm *form);

/* key=DAY, or NULL; the pairs without the empty ones, NULL-ended. */
char *_app_pair_day (const char *key, CoreDay day);
const char *const *_app_pairs (GPtrArray *pairs);
/* The callback of desk_add_async: says what was added; data is a reference to the form. */
void _app_added_cb (GObject *source, GAsyncResult *result, gpointer data);

/* A number as typed; NAN = nothing, or none: what is wrong is said when it is saved. */
double _app_typed (AppForm *form, const char *key);
/* What is said while usual temperatures are past what lives there bears; a row for it. */
GtkWidget *_app_past_row (AppForm *form);
void _app_say_past (GtkLabel *caution, Desk *desk, CorePast past);
