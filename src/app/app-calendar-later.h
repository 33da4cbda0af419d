/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-calendar-later.h — tasks of a calendar by what the hand holds. */
#pragma once

#include "desk/desk-weeks.h"
#include "words/words.h"

typedef struct
{
  CoreTask task; /* as far as a row tells of the first of them */
  CoreDay day;
  char *group;
  gboolean rest;     /* of today, behind those that are listed */
  GPtrArray *labels; /* const char *, borrowed from the agenda's subjects */
  CoreId subject;    /* the first */
} AppCalendarLater;

/* A cup by its number, a shelf by its name. */
const char *app_calendar_label (const DeskSubject *subject);
/* What a row tells of its task. */
CoreTask app_calendar_task (const DeskAgendaRow *row);
/* What the hand holds: "House flies", "Spray bottle" … */
char *app_calendar_group (const CoreTask *task);
int app_calendar_hand (const CoreTask *task); /* the number of that: desk_hand_of() */

/* AppCalendarLater, owned; while the agenda is there. */
GHashTable *app_calendar_later_new (void);
void app_calendar_later_add (GHashTable *groups, const DeskAgenda *agenda, const DeskAgendaRow *row, CoreDay day,
                             gboolean rest);
char *app_calendar_later_text (const AppCalendarLater *later);
