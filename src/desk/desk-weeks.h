/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-weeks.h — an agenda as a calendar draws it: by day what is to be done, and when a moult may come. */
#pragma once

#include "desk/desk.h"

/* What the hand holds for a task; a number for each, smaller = earlier in a list. */
int desk_hand_of (CoreTaskKind kind, CoreTaskRank rank, int prey);

typedef struct
{
  const char *species; /* desk_filter_species() of what is shown; NULL = all kinds */
  int hand;            /* desk_hand_of(); -1 = all tasks */
  gboolean near_moult; /* only animals and lots near a moult */
} DeskFilter;

/* The kind by its scientific name, or as it was typed; "" = unknown. Borrowed. */
const char *desk_filter_species (const DeskSubject *subject);
gboolean desk_filter_shows (const DeskFilter *filter, const DeskSubject *subject, CoreDay today);
gboolean desk_filter_shows_row (const DeskFilter *filter, const DeskAgendaRow *row);
/* Its moult may come within a week, as far as days can be said at all. */
gboolean desk_near_moult (const DeskSubject *subject, CoreDay today);

/* A moult to come. A day is a number from its morning to the next: 3.5 is the middle of day 3. */
typedef struct
{
  DeskSubject *subject;
  CoreDay from, to;            /* the range as it is said, whole days, never one alone */
  double middle, half[2];      /* the median, and where the middle half lies */
  double adult;                /* chance that it makes it adult; of a lot 0 */
} DeskBand;

typedef struct
{
  guint band; /* into DeskWeeks.bands */
  guint lane;
} DeskLaid;

typedef struct
{
  GArray *laid; /* DeskLaid */
  guint lanes;  /* of these */
  guint more;   /* bands that have no lane any more */
} DeskWeek;

typedef struct
{
  guint tasks[CORE_N_TASKS];
} DeskWeekDay;

#define DESK_WEEK_LANES 5

typedef struct
{
  CoreDay from;    /* a Monday */
  CoreDay today, to;
  GArray *days;    /* DeskWeekDay, seven a week, from `from` on */
  GArray *bands;   /* DeskBand, by their middle */
  GPtrArray *weeks; /* DeskWeek * */
} DeskWeeks;

/* `place`: as that of the agenda; `to`: the last day, also where the agenda does not go as far. */
DeskWeeks *desk_weeks_new (Desk *desk, const DeskAgenda *agenda, CoreId place, const DeskFilter *filter, CoreDay to);
void desk_weeks_free (DeskWeeks *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskWeeks, desk_weeks_free)
const DeskWeekDay *desk_weeks_day (const DeskWeeks *self, CoreDay day); /* NULL = outside */
