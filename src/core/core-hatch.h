/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-hatch.h — when an egg case is expected to hatch, and when no longer. */
#pragma once

#include "core/core-clock.h"

typedef struct
{
  bool known;   /* counted from a day that is known, and warm enough to go on */
  bool resting; /* in its winter rest: nothing is counted but `since` */
  bool came;    /* when it was laid is not known: counted from the day on which it came */
  CoreDay since;  /* counted from it: laid at the latest, its coming, the end of its
                     rest, or that rest's first day */
  CoreDay lo, hi; /* 10–90 % range of the hatch; of one that came it opens with the day after */
  CoreDay dud;    /* one and a half times the longest usual wait; NONE = past the warmth known */
} CoreHatch;

/* `warmth` is that of the egg case, from before `since` on. */
void core_hatch (const CoreState *egg,
                 const CoreProfile *profile,
                 const CoreWarmth *warmth,
                 CoreHatch *out);
/* First day for which core_hatch wants the warmth; CORE_DAY_NONE = any. */
bool core_egg_rests (const CoreState *egg, const CoreProfile *profile); /* so it was entered */
CoreDay core_hatch_from (const CoreState *egg);
