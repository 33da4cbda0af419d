/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-rand.h — the drawing's own source of chance: the same seed gives the
 * same numbers on every machine (splitmix64, public domain algorithm).
 */
#pragma once

#include <glib.h>

typedef struct
{
  guint64 state;
} DemoRand;

void demo_rand_init (DemoRand *self, guint64 seed, guint64 stream);
guint64 demo_rand_bits (DemoRand *self);
double demo_rand_unit (DemoRand *self);                        /* 0 <= x < 1 */
double demo_rand_range (DemoRand *self, double lo, double hi); /* lo <= x < hi */
double demo_rand_normal (DemoRand *self);                      /* mean 0, sd 1 */
double demo_rand_lognormal (DemoRand *self, double median, double sd_log);
int demo_rand_int (DemoRand *self, int lo, int hi); /* lo <= n <= hi */
gboolean demo_rand_chance (DemoRand *self, double p);
int demo_rand_pick (DemoRand *self, const double *weights, int n); /* index by weight */
