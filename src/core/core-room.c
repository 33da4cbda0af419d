/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-room.c — Gaussian messages between animals, lots, species and a room.
 *
 * The tree: voice → lot with weight 1 / (eta² + 1/p), lot → species with 1 / (lambda² + 1/W),
 * species → room with 1 / (.4 rho² + pi² + 1/R), pi being what its profile may be off by. Plain sums would be overconfident: a hundred moults of
 * one lot are one lot. Sums are always made anew in the order of the voices, never by adding and
 * taking away, so that equal voices give equal bits.
 */
#include "core/core-room.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double common = .6;    /* of rho's variance: of all species of a room; models §3 */
static const double round_to = .02; /* of the neutral sd */
static const double y_step = .005;
static const double p_steps = 16; /* of an octave */
#define MAX_WITHIN 8              /* depth of places; also ends a circle */

typedef struct
{
  double weight, mean; /* precision, and the mean that it stands for */
} Sum;

typedef struct
{
  CoreVoice voice;
  CoreId lot;    /* itself when of none */
  uint64_t turn; /* of two of one animal the later counts */
} Member;

typedef struct
{
  size_t first, n; /* of the members */
  Sum sum;         /* of voices, about rho + lambda of this lot */
  double weight;   /* towards rho */
} Lot;

typedef struct
{
  size_t first, n; /* of the lots */
  Sum sum;         /* of lots, about rho */
  double weight;   /* towards what all species share */
} Kind;

struct CoreRoom
{
  Member *members; /* the first `sorted` by species, lot, animal, once each; then as they came */
  size_t n, sorted, cap;
  uint64_t turn;
  Lot *lots;   /* room for `cap` */
  Kind *kinds; /* the same */
  size_t n_lots, n_kinds;
  bool stale; /* the sums */
};

CoreRoom *
core_room_new (void)
{
  return calloc (1, sizeof (CoreRoom));
}

void
core_room_free (CoreRoom *self)
{
  if (self == NULL)
    return;
  free (self->members);
  free (self->lots);
  free (self->kinds);
  free (self);
}

CoreVoice
core_voice (CoreId animal, CoreId lot, const CoreProfile *profile, double y, double p)
{
  CoreVoice self = { animal, lot, profile, 0, 0, 0 };

  if (isfinite (y) && isfinite (p) && p > 0)
    {
      self.y = round (y / y_step) * y_step;
      self.p = exp2 (round (log2 (p) * p_steps) / p_steps);
    }
  return self;
}

/* FNV-1a, of the letters as small ones. */
uint64_t
core_kind_mark (const char *name)
{
  uint64_t mark = 14695981039346656037u;
  size_t n;

  while (*name == ' ')
    name++;
  n = strlen (name);
  while (n > 0 && name[n - 1] == ' ')
    n--;
  for (size_t i = 0; i < n; i++)
    mark = (mark ^ (uint64_t) (unsigned char) (name[i] >= 'A' && name[i] <= 'Z' ? name[i] + 32 : name[i])) *
           1099511628211u;
  return n > 0 ? mark : 0;
}

static int
compare_members (const Member *a, const Member *b)
{
  int order = strcmp (a->voice.profile->id, b->voice.profile->id);

  if (order == 0)
    order = (a->voice.kind > b->voice.kind) - (a->voice.kind < b->voice.kind);
  if (order == 0)
    order = core_id_compare (a->lot, b->lot);
  return order != 0 ? order : core_id_compare (a->voice.animal, b->voice.animal);
}

static Member
member_of (const CoreVoice *voice)
{
  return (Member){ *voice, core_id_is_none (voice->lot) ? voice->animal : voice->lot, 0 };
}

/* Among the sorted; NULL = it is not there. */
static Member *
find (CoreRoom *self, const Member *what)
{
  size_t lo = 0, hi = self->sorted;

  while (lo < hi)
    {
      size_t mid = lo + (hi - lo) / 2;
      int order = compare_members (&self->members[mid], what);
      if (order == 0)
        return &self->members[mid];
      if (order < 0)
        lo = mid + 1;
      else
        hi = mid;
    }
  return NULL;
}

void
core_room_take_out (CoreRoom *self, CoreId animal)
{
  for (size_t i = self->n; i-- > 0;)
    if (core_id_equal (self->members[i].voice.animal, animal))
      {
        self->n--;
        self->sorted -= i < self->sorted ? 1 : 0;
        memmove (&self->members[i], &self->members[i + 1], (self->n - i) * sizeof *self->members);
        self->stale = true;
      }
}

static bool
grow (CoreRoom *self)
{
  size_t cap = self->cap * 2 + 16;
  Member *members = realloc (self->members, cap * sizeof *members);
  Lot *lots;
  Kind *kinds;

  if (members == NULL)
    return false;
  self->members = members;
  lots = realloc (self->lots, cap * sizeof *lots);
  if (lots == NULL)
    return false;
  self->lots = lots;
  kinds = realloc (self->kinds, cap * sizeof *kinds);
  if (kinds == NULL)
    return false;
  self->kinds = kinds;
  self->cap = cap;
  return true;
}

CoreStatus
core_room_put (CoreRoom *self, const CoreVoice *voice)
{
  Member what = member_of (voice);
  Member *there = find (self, &what);

  if (there != NULL)
    {
      self->stale = self->stale || there->voice.y != voice->y || there->voice.p != voice->p;
      *there = what;
      return CORE_OK;
    }
  if (self->n == self->cap && !grow (self))
    return CORE_NO_MEMORY;
  what.turn = ++self->turn;
  self->members[self->n++] = what;
  self->stale = true;
  return CORE_OK;
}

/* ---- sums ---- */

static Sum
plus (Sum a, double weight, double mean)
{
  double all = a.weight + weight;

  if (!(weight > 0))
    return a;
  return (Sum){ all, a.mean + weight / all * (mean - a.mean) };
}

static double
square (double x)
{
  return x * x;
}

static double
voice_weight (const CoreVoice *voice)
{
  return 1 / (square (voice->profile->sd_eta) + 1 / voice->p);
}

/* Weight of a sum that reaches what it speaks of through a spread of that variance. */
static double
through (Sum sum, double var)
{
  return sum.weight > 0 ? 1 / (var + 1 / sum.weight) : 0;
}

/* Of a species in the room: not common to all species of it. */
static double
kind_var (const CoreProfile *profile)
{
  return (1 - common) * square (profile->sd_rho) + square (core_profile_sd_medians (profile));
}

static Sum
sum_voices (const CoreRoom *self, size_t first, size_t n, const CoreId *without)
{
  Sum sum = { 0, 0 };

  for (size_t i = first; i < first + n; i++)
    if (without == NULL || !core_id_equal (self->members[i].voice.animal, *without))
      sum = plus (sum, voice_weight (&self->members[i].voice), self->members[i].voice.y);
  return sum;
}

/* Of one kind, or of one lot of which nobody knows the kind. */
static bool
same_kind (const Member *a, const Member *b)
{
  if (a->voice.profile != b->voice.profile && strcmp (a->voice.profile->id, b->voice.profile->id) != 0)
    return false;
  return a->voice.kind == b->voice.kind &&
         (a->voice.kind > 0 || !a->voice.profile->general || core_id_equal (a->lot, b->lot));
}

static const Member *
first_of (const CoreRoom *self, const Lot *lot)
{
  return &self->members[lot->first];
}

static void
sum_lots (CoreRoom *self)
{
  self->n_lots = 0;
  for (size_t i = 0; i < self->n;)
    {
      const Member *first = &self->members[i];
      Lot *lot = &self->lots[self->n_lots++];
      size_t end = i + 1;

      while (end < self->n && core_id_equal (self->members[end].lot, first->lot) &&
             same_kind (&self->members[end], first))
        end++;
      *lot = (Lot){ .first = i, .n = end - i, .sum = sum_voices (self, i, end - i, NULL) };
      lot->weight = through (lot->sum, square (first->voice.profile->sd_lambda));
      i = end;
    }
}

static void
sum_kinds (CoreRoom *self)
{
  self->n_kinds = 0;
  for (size_t i = 0; i < self->n_lots;)
    {
      const Member *first = first_of (self, &self->lots[i]);
      Kind *kind = &self->kinds[self->n_kinds++];

      *kind = (Kind){ .first = i };
      for (; i < self->n_lots && same_kind (first_of (self, &self->lots[i]), first); i++)
        {
          kind->sum = plus (kind->sum, self->lots[i].weight, self->lots[i].sum.mean);
          kind->n++;
        }
      kind->weight = through (kind->sum, kind_var (first->voice.profile));
    }
}

static int
compare_in_turn (const void *a, const void *b)
{
  const Member *left = a, *right = b;
  int order = compare_members (left, right);

  return order != 0 ? order : (left->turn > right->turn) - (left->turn < right->turn);
}

static void
sort (CoreRoom *self)
{
  size_t kept = 0;

  if (self->sorted == self->n)
    return;
  qsort (self->members, self->n, sizeof *self->members, compare_in_turn);
  for (size_t i = 0; i < self->n; i++)
    {
      bool again = kept > 0 && compare_members (&self->members[kept - 1], &self->members[i]) == 0;

      self->members[again ? kept - 1 : kept++] = self->members[i];
    }
  self->n = self->sorted = kept;
}

static void
sum_all (CoreRoom *self)
{
  if (!self->stale)
    return;
  sort (self);
  sum_lots (self);
  sum_kinds (self);
  self->stale = false;
}

/* ---- what others say ---- */

/* Two Gaussians about one thing; variance 0 of none. */
static CoreMessage
joined (double mean, double var, Sum other)
{
  Sum sum = plus ((Sum){ 1 / fmax (var, 1e-12), mean }, other.weight, other.mean);

  return (CoreMessage){ sum.mean, sqrt (1 / sum.weight) };
}

static const Kind *
kind_of (const CoreRoom *self, const Member *asking)
{
  for (size_t k = 0; k < self->n_kinds; k++)
    if (same_kind (first_of (self, &self->lots[self->kinds[k].first]), asking))
      return &self->kinds[k];
  return NULL;
}

static const Lot *
lot_of (const CoreRoom *self, const Kind *kind, CoreId id)
{
  size_t lo = kind->first, hi = kind->first + kind->n;

  while (lo < hi)
    {
      size_t mid = lo + (hi - lo) / 2;
      int order = core_id_compare (self->members[self->lots[mid].first].lot, id);
      if (order == 0)
        return &self->lots[mid];
      if (order < 0)
        lo = mid + 1;
      else
        hi = mid;
    }
  return NULL;
}

/* A sum less one part of it; a new one is cheaper to trust than a difference of near equals. */
static Sum
minus (Sum all, double weight, double mean)
{
  double rest = all.weight - weight;

  if (!(rest > 1e-9 * all.weight))
    return (Sum){ 0, 0 };
  return (Sum){ rest, (all.weight * all.mean - weight * mean) / rest };
}

static double
stepped (double value, double step)
{
  return step > 0 ? round (value / step) * step : value;
}

static CoreMessage
rounded (CoreMessage message, const CoreProfile *profile)
{
  double step = round_to * core_room_neutral (profile).sd;

  return (CoreMessage){ stepped (message.mean, step), stepped (message.sd, step) };
}

CoreMessage
core_room_neutral (const CoreProfile *profile)
{
  return (CoreMessage){ 0, sqrt (common * square (profile->sd_rho) + kind_var (profile) +
                                 square (profile->sd_lambda)) };
}

CoreMessage
core_room_hear (CoreRoom *self, const CoreVoice *voice, bool with_mates)
{
  const CoreProfile *profile = voice->profile;
  Member asking = member_of (voice);
  double lambda = square (profile->sd_lambda);
  Sum species = { 0, 0 }, mates = { 0, 0 };
  const Kind *kind;
  const Lot *own;
  CoreMessage m = { 0, sqrt (common) * profile->sd_rho };

  sum_all (self);
  kind = kind_of (self, &asking);
  own = kind != NULL ? lot_of (self, kind, asking.lot) : NULL;
  for (size_t k = 0; k < self->n_kinds; k++)
    if (&self->kinds[k] != kind)
      m = joined (m.mean, square (m.sd), (Sum){ self->kinds[k].weight, self->kinds[k].sum.mean });
  if (kind != NULL)
    species = own != NULL ? minus (kind->sum, own->weight, own->sum.mean) : kind->sum;
  m = joined (m.mean, square (m.sd) + kind_var (profile), species);
  if (own != NULL && with_mates)
    mates = sum_voices (self, own->first, own->n, &voice->animal);
  m = joined (m.mean, square (m.sd) + lambda, mates);
  return rounded (m, profile);
}

CoreMessage
core_room_message (CoreRoom *self, CoreId animal, CoreId lot, const CoreProfile *profile)
{
  CoreVoice asking = core_voice (animal, lot, profile, 0, 0);

  return core_room_hear (self, &asking, true);
}

CoreMessage
core_room_alone (CoreRoom *self, CoreId animal, CoreId lot, const CoreProfile *profile)
{
  CoreVoice asking = core_voice (animal, lot, profile, 0, 0);

  return core_room_hear (self, &asking, false);
}

CoreMessage
core_room_elsewhere (CoreMessage there, CoreMessage here, const CoreProfile *profile)
{
  double lambda = square (profile->sd_lambda); /* its lot goes with it */
  double medians = square (core_profile_sd_medians (profile)); /* the same in all rooms */
  double of_room = square (profile->sd_rho) / (square (profile->sd_rho) + medians);

  return (CoreMessage){ there.mean - here.mean,
                        sqrt (of_room * (fmax (0, square (there.sd) - lambda) +
                                         fmax (0, square (here.sd) - lambda))) };
}

/* ---- which room ---- */

static CoreId
outermost (CoreId place, CorePlaceLookup lookup, void *data)
{
  for (int hop = 0; hop < MAX_WITHIN; hop++)
    {
      const CoreState *state = core_id_is_none (place) ? NULL : lookup (place, data);

      if (state == NULL || core_id_is_none (state->place.within))
        break;
      place = state->place.within;
    }
  return place;
}

CoreId
core_room_of_stage (const CoreState *state, size_t stage, CorePlaceLookup lookup, void *data)
{
  const CoreStay *stay = state->stays.n > 0 ? &state->stays.v[state->stays.n - 1] : NULL;

  if (stage < state->stages.n && isfinite (state->stages.v[stage].hi) && stay != NULL)
    {
      stay = core_state_stay_on (state, (CoreDay) ceil (state->stages.v[stage].hi));
      if (stay == NULL) /* before its first stay: where that was */
        stay = &state->stays.v[0];
    }
  return stay != NULL ? outermost (stay->place, lookup, data) : (CoreId){ { 0 } };
}
