/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-hear.c — messages of a room put together: animal to lot, lot to species, species to room.
 *
 * Gaussian throughout. An animal's y with precision p observes its lot's rho + lambda with
 * variance eta² + 1/p; a lot's mean with summed weight W observes the species' rho with
 * lambda² + 1/W; of the variance of rho 60 % is common to all species of the room.
 */
#include "sim-ask.h"

static const double common_share = .6;

typedef struct
{
  double mean, weight;
} Sum;

static void
add (Sum *self, double y, double w)
{
  self->weight += w;
  self->mean += (y - self->mean) * w / self->weight;
}

static gboolean
same_lot (const SimSaid *a, const SimSaid *b)
{
  return a == b || (a->lot >= 0 && a->lot == b->lot && a->profile == b->profile);
}

/* All of one lot; `first` is the first of it in the list. */
static Sum
sum_of_lot (const SimSaid *said, gsize n, const SimSaid *first, int *count)
{
  double eta = first->profile->sd_eta;
  Sum sum = { 0, 0 };

  *count = 0;
  for (gsize i = 0; i < n; i++)
    if (same_lot (&said[i], first))
      {
        add (&sum, said[i].y, 1 / (eta * eta + 1 / said[i].p));
        ++*count;
      }
  return sum;
}

static gboolean
first_of_lot (const SimSaid *said, gsize i)
{
  for (gsize j = 0; j < i; j++)
    if (same_lot (&said[j], &said[i]))
      return FALSE;
  return TRUE;
}

/* What the lots of a species say of its rho; one lot is left out (−1: none is). */
static Sum
sum_of_kind (const SimSaid *said, gsize n, const CoreProfile *profile, int without, int *count)
{
  Sum sum = { 0, 0 };
  int of_lot;

  *count = 0;
  for (gsize i = 0; i < n; i++)
    if (said[i].profile == profile && (without < 0 || said[i].lot != without) &&
        first_of_lot (said, i))
      {
        Sum lot = sum_of_lot (said, n, &said[i], &of_lot);
        double lambda = profile->sd_lambda;
        add (&sum, lot.mean, 1 / (lambda * lambda + 1 / lot.weight));
        *count += of_lot;
      }
  return sum;
}

static gboolean
first_of_kind (const SimSaid *said, gsize i)
{
  for (gsize j = 0; j < i; j++)
    if (said[j].profile == said[i].profile)
      return FALSE;
  return TRUE;
}

SimHeard
sim_hear (const SimSaid *said, gsize n, const CoreProfile *profile, int lot)
{
  double rho2 = profile->sd_rho * profile->sd_rho, var, lambda = profile->sd_lambda;
  double own2 = (1 - common_share) * rho2;
  Sum common = { 0, 1 / (common_share * rho2) }, post;
  SimHeard out = { 0 };
  int count;

  for (gsize i = 0; i < n; i++)
    if (said[i].profile != profile && first_of_kind (said, i))
      {
        Sum kind = sum_of_kind (said, n, said[i].profile, -1, &count);
        add (&common, kind.mean, 1 / (own2 + 1 / kind.weight));
      }
  post = (Sum){ common.mean, 1 / (1 / common.weight + own2) };
  {
    Sum kind = sum_of_kind (said, n, profile, lot, &out.others);
    if (kind.weight > 0)
      add (&post, kind.mean, kind.weight);
  }
  var = 1 / post.weight + lambda * lambda;
  post = (Sum){ post.mean, 1 / var };
  for (gsize i = 0; lot >= 0 && i < n; i++)
    if (said[i].lot == lot && said[i].profile == profile)
      {
        Sum mates = sum_of_lot (said, n, &said[i], &out.mates);
        add (&post, mates.mean, mates.weight);
        break;
      }
  out.message = (CoreMessage){ post.mean, sqrt (1 / post.weight) };
  return out;
}
