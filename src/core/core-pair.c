/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-pair.c — all but the lots of one sex alone. */
#include "core/core-pair.h"

#include <math.h>

double
core_pair_chance (double male, int64_t n)
{
  if (n < 2 || !(male >= 0 && male <= 1))
    return 0;
  return fmax (0, 1 - pow (male, (double) n) - pow (1 - male, (double) n));
}

CorePair
core_pair_of_lot (const CoreState *lot, const CoreProfile *profile)
{
  CorePair out = { CORE_PAIR_NO_COUNT, 0, false, NAN };
  if (profile->parthenogenetic)
    out.why = CORE_PAIR_NO_MALE;
  else if (lot->tally.known && lot->tally.count > 0 && lot->end == CORE_END_NONE)
    out.why = CORE_PAIR_KNOWN;
  if (out.why != CORE_PAIR_KNOWN)
    return out;
  out.n = lot->tally.count;
  out.counted = lot->tally.counted;
  out.chance = core_pair_chance (profile->male_prior, out.n);
  return out;
}
