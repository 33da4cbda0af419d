/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-plots.h — what the plots of an animal show, as numbers. */
#pragma once

#include "core/core-plot.h"
#include "desk/desk.h"

/* A finished stage of another one of its lot on the same shelf. */
typedef struct
{
  int moults;
  double days; /* the middle of its range */
} DeskMateStage;

typedef struct
{
  gsize n;
  CoreInterval own[CORE_MAX_MOULTS];
  GArray *mates; /* DeskMateStage, owned */
} DeskIntervals;

DeskIntervals *desk_intervals (Desk *self, DeskSubject *animal); /* never NULL */
void desk_intervals_free (DeskIntervals *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskIntervals, desk_intervals_free)

void desk_growth_curve (DeskSubject *animal, CoreDimension what, CoreGrowthCurve *out);
