/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-sex.c — combining the pieces into a verdict.
 *
 * No single picture carries more than 32:1, copies of a picture change
 * nothing, and an opposite piece stays in the list with its weight.
 */
#include "core/core-sex.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/core-sex-pieces.h"
#include "core/core-sex-tables.h"

static const double LIKELY = CORE_SEX_LIKELY, FIRM = .99;
static const double SLACK = 1e-9;
static const double LEAST_SETTLED = 5.3; /* log-odds: .995 */

static bool
same_group (const CoreSexPiece *a, const CoreSexPiece *b)
{
  return a->evidence.kind == b->evidence.kind && a->stage == b->stage;
}

static void
lessen (CoreSexPiece *p, double factor, CoreWeightNote note)
{
  p->evidence.counted *= factor;
  if (factor < 1 - SLACK && p->evidence.note == CORE_WEIGHT_FULL)
    p->evidence.note = note;
}

/* Of one kind and stage the reading marked best counts alone. */
static void
keep_best (CoreSexPiece *p, size_t n)
{
  for (size_t i = 0; i < n; i++)
    {
      if (!p[i].informs || p[i].best)
        continue;
      for (size_t k = 0; k < n; k++)
        if (p[k].informs && p[k].best && same_group (&p[i], &p[k]))
          {
            p[i].informs = false;
            p[i].evidence.note = CORE_WEIGHT_SAME_KIND;
            break;
          }
    }
}

/* Several marks on one picture: the mean of each kind. */
static void
mean_inside_view (CoreSexPiece *p, size_t n)
{
  for (size_t i = 0; i < n; i++)
    {
      size_t like = 0;
      for (size_t k = 0; k < n; k++)
        like += p[k].informs && p[k].view == p[i].view && same_group (&p[i], &p[k]);
      p[i].evidence.counted = p[i].informs ? p[i].evidence.log_odds : 0;
      if (p[i].informs && like > 1)
        lessen (&p[i], 1.0 / (double) like, CORE_WEIGHT_SAME_KIND);
    }
}

static double
sum_of (const CoreSexPiece *p, size_t n, int view, int kind)
{
  double sum = 0;
  for (size_t i = 0; i < n; i++)
    if (p[i].view == view && (kind < 0 || (int) p[i].evidence.kind == kind))
      sum += p[i].evidence.counted;
  return sum;
}

/* Count and last plate of one picture: the sharper fully, the other at half. */
static void
halve_less_sharp (CoreSexPiece *p, size_t n)
{
  for (size_t i = 0; i < n; i++)
    {
      bool first = true;
      for (size_t k = 0; k < i; k++)
        first &= p[k].view != p[i].view;
      if (!first)
        continue;
      double count = sum_of (p, n, p[i].view, CORE_EVIDENCE_COUNT);
      double last = sum_of (p, n, p[i].view, CORE_EVIDENCE_LAST_PLATE);
      if (fabs (count) < SLACK || fabs (last) < SLACK)
        continue;
      CoreEvidenceKind weak =
        fabs (last) > fabs (count) ? CORE_EVIDENCE_COUNT : CORE_EVIDENCE_LAST_PLATE;
      for (size_t k = 0; k < n; k++)
        if (p[k].view == p[i].view && p[k].evidence.kind == weak)
          lessen (&p[k], .5, CORE_WEIGHT_HALVED);
    }
}

static void
cap_views (CoreSexPiece *p, size_t n)
{
  double cap = log (CORE_ODDS_PHOTO_CAP);
  for (size_t i = 0; i < n; i++)
    {
      if (!p[i].photo)
        continue;
      double sum = fabs (sum_of (p, n, p[i].view, -1));
      if (sum <= cap)
        continue;
      int view = p[i].view;
      for (size_t k = 0; k < n; k++)
        if (p[k].view == view)
          lessen (&p[k], cap / sum, CORE_WEIGHT_CAPPED);
    }
}

/* The mean over views of one kind and stage, so that copies change nothing. */
static void
mean_over_views (CoreSexPiece *p, size_t n)
{
  for (size_t i = 0; i < n; i++)
    {
      size_t views = 0;
      for (size_t k = 0; k < n; k++)
        {
          bool fresh = p[k].informs && same_group (&p[i], &p[k]);
          for (size_t j = 0; fresh && j < k; j++)
            fresh = !(p[j].informs && same_group (&p[j], &p[k]) && p[j].view == p[k].view);
          views += fresh;
        }
      if (views > 1 && p[i].informs)
        lessen (&p[i], 1.0 / (double) views, CORE_WEIGHT_SAME_KIND);
    }
}

/* Readings after different moults: the latest fully, each earlier one at half. */
static void
halve_earlier_stages (CoreSexPiece *p, size_t n)
{
  for (size_t i = 0; i < n; i++)
    for (size_t k = 0; k < n; k++)
      if (p[k].informs && p[k].evidence.kind == p[i].evidence.kind && p[k].stage > p[i].stage &&
          fabs (p[k].evidence.log_odds) > SLACK)
        {
          lessen (&p[i], .5, CORE_WEIGHT_HALVED);
          break;
        }
}

static bool
settles (const CoreSexPiece *p)
{
  return p->informs &&
         (p->evidence.kind == CORE_EVIDENCE_LAID || p->evidence.kind == CORE_EVIDENCE_JOINED);
}

/* What settles it counts once, however often it was seen. Returns the sex
 * that is settled; *twice when both were. */
static CoreSex
settle (CoreSexPiece *p, size_t n, bool *twice)
{
  bool seen[3] = { false };
  for (size_t i = 0; i < n; i++)
    if (settles (&p[i]))
      {
        CoreSex says = p[i].evidence.says;
        p[i].evidence.counted = seen[says] ? 0 : p[i].evidence.log_odds;
        p[i].evidence.note = seen[says] ? CORE_WEIGHT_SAME_KIND : CORE_WEIGHT_FULL;
        seen[says] = true;
      }
  *twice = seen[CORE_SEX_MALE] && seen[CORE_SEX_FEMALE];
  return seen[CORE_SEX_MALE]     ? CORE_SEX_MALE
         : seen[CORE_SEX_FEMALE] ? CORE_SEX_FEMALE
                                 : CORE_SEX_UNKNOWN;
}

/* Both wing ratios stand on the same wing: one kind for a second opinion. */
static int
opinion (const CoreSexPiece *p)
{
  return p->evidence.kind == CORE_EVIDENCE_TEGMEN ? CORE_EVIDENCE_WINGS : (int) p->evidence.kind;
}

static bool
worth (const CoreSexPiece *p, CoreSex sex)
{
  return p->informs && p->evidence.says == sex && p->evidence.kind != CORE_EVIDENCE_CLAIM &&
         fabs (p->evidence.log_odds) >= log (CORE_ODDS_SECOND) - SLACK &&
         fabs (p->evidence.counted) > SLACK;
}

/* A second kind from another view. */
static bool
second_kind (const CoreSexPiece *p, size_t n, CoreSex sex)
{
  for (size_t i = 0; i < n; i++)
    for (size_t k = 0; k < i; k++)
      if (worth (&p[i], sex) && worth (&p[k], sex) && opinion (&p[i]) != opinion (&p[k]) &&
          p[i].view != p[k].view)
        return true;
  return false;
}

/* The count read after two different moults. */
static bool
counted_twice (const CoreSexPiece *p, size_t n, CoreSex sex)
{
  for (size_t i = 0; i < n; i++)
    for (size_t k = 0; k < i; k++)
      if (worth (&p[i], sex) && worth (&p[k], sex) && p[i].evidence.kind == CORE_EVIDENCE_COUNT &&
          p[k].evidence.kind == CORE_EVIDENCE_COUNT && p[i].stage != p[k].stage &&
          p[i].stage >= 0 && p[k].stage >= 0)
        return true;
  return false;
}

static CoreVerdictWord
word_for (double p, CoreSex sex, bool firm)
{
  if (p < LIKELY - SLACK)
    return CORE_VERDICT_UNDECIDED;
  if (sex == CORE_SEX_MALE)
    return firm ? CORE_VERDICT_FIRM_MALE : CORE_VERDICT_LIKELY_MALE;
  return firm ? CORE_VERDICT_FIRM_FEMALE : CORE_VERDICT_LIKELY_FEMALE;
}

static void
judge (const CoreProfile *profile,
       const CoreSexPiece *p,
       size_t n,
       CoreSex settled,
       CoreSexVerdict *out)
{
  CoreSex sex = out->male >= out->female ? CORE_SEX_MALE : CORE_SEX_FEMALE;
  double best = fmax (out->male, out->female);
  bool second = second_kind (p, n, sex);
  bool twice = counted_twice (p, n, sex) && !profile->count_doubtful;
  bool firm = best >= FIRM - SLACK && (second || twice || settled == sex);
  out->verdict = word_for (best, sex, firm);
  out->provisional =
    !(out->verdict == CORE_VERDICT_FIRM_MALE || out->verdict == CORE_VERDICT_FIRM_FEMALE);
}

static void
find_conflict (const CoreSexPiece *p, size_t n, CoreSexVerdict *out)
{
  bool both[3] = { false };
  for (size_t i = 0; i < n; i++)
    if (p[i].informs && fabs (p[i].evidence.log_odds) >= log (2) - SLACK)
      both[p[i].evidence.says] = true;
  out->conflict |= both[CORE_SEX_MALE] && both[CORE_SEX_FEMALE];
}

/* Plates read in a stage that most likely shows none of the sex yet; what they weigh is what the other
 * stages are worth that it may be. */
static bool
is_early (const CoreProfile *profile, const CoreSexPiece *p)
{
  bool plates = p->evidence.kind == CORE_EVIDENCE_COUNT || p->evidence.kind == CORE_EVIDENCE_LAST_PLATE;
  return plates && (p->evidence.note == CORE_WEIGHT_TOO_EARLY ||
                    (p->informs && p->evidence.moults >= 0 && p->evidence.moults < profile->readable_from));
}

/* An adult has no later stage to wait for. */
static void
find_too_early (const CoreProfile *profile, const CoreSexPiece *p, size_t n, bool adult, CoreSexVerdict *out)
{
  size_t early = 0, other = 0;
  for (size_t i = 0; i < n; i++)
    {
      bool now = is_early (profile, &p[i]);
      early += now;
      other += !now && p[i].informs && fabs (p[i].evidence.log_odds) > SLACK &&
               p[i].evidence.kind != CORE_EVIDENCE_CLAIM;
    }
  out->too_early = early > 0 && other == 0 && !adult && out->verdict == CORE_VERDICT_UNDECIDED;
}

/* A picture of the back, or of another animal. */
static bool
beside_the_point (const CoreSexPiece *p)
{
  return p->evidence.note == CORE_WEIGHT_WRONG_SIDE || p->evidence.note == CORE_WEIGHT_OF_OTHER;
}

/* What the counts of the latest stage all leave open: one of them that answers it is enough,
 * and what an earlier stage left open is answered by a later one, however little that weighs. */
static unsigned
asks_of_counts (const CoreSexPiece *p, size_t n)
{
  const CoreSexPiece *latest = NULL;
  unsigned ask = 0;
  for (size_t i = 0; i < n; i++)
    {
      if (p[i].evidence.kind != CORE_EVIDENCE_COUNT || beside_the_point (&p[i]))
        continue;
      bool better = !latest || p[i].informs > latest->informs ||
                    (p[i].informs == latest->informs && p[i].stage > latest->stage);
      if (better)
        ask = p[i].ask;
      else if (p[i].informs == latest->informs && p[i].stage == latest->stage)
        ask &= p[i].ask;
      if (better)
        latest = &p[i];
    }
  return ask;
}

static void
find_asks (const CoreProfile *profile,
           const CoreSexPiece *p,
           size_t n,
           bool adult,
           CoreSexVerdict *out)
{
  bool count = false, last = false, wings = false, feathers = false;
  out->ask = asks_of_counts (p, n);
  if (!out->provisional)
    return;
  for (size_t i = 0; i < n; i++)
    {
      if (p[i].evidence.note == CORE_WEIGHT_OF_OTHER)
        out->ask |= CORE_ASK_LOOK_AGAIN;
      feathers |= p[i].informs && p[i].evidence.kind == CORE_EVIDENCE_CUE &&
                  strcmp (p[i].evidence.cue, "antennae") == 0;
      if (beside_the_point (&p[i]))
        continue;
      count |= p[i].evidence.kind == CORE_EVIDENCE_COUNT;
      last |= p[i].evidence.kind == CORE_EVIDENCE_LAST_PLATE && p[i].informs;
      wings |= opinion (&p[i]) == CORE_EVIDENCE_WINGS && p[i].informs;
    }
  if (count && !last && !out->too_early)
    out->ask |= CORE_ASK_LAST_PLATE;
  if (!adult)
    out->ask |= CORE_ASK_NEXT_STAGE;
  if (adult && !wings)
    out->ask |= CORE_ASK_WINGS;
  if (profile->empusid && !feathers)
    out->ask |= CORE_ASK_ANTENNAE;
  if (fmax (out->male, out->female) >= LIKELY - SLACK)
    out->ask |= CORE_ASK_SECOND_KIND;
}

static void
weigh (CoreSexPiece *p, size_t n)
{
  keep_best (p, n);
  mean_inside_view (p, n);
  halve_less_sharp (p, n);
  cap_views (p, n);
  mean_over_views (p, n);
  halve_earlier_stages (p, n);
  cap_views (p, n); /* an opposite piece may have been thinned by other pictures */
}

static void
conclude (const CoreProfile *profile, CoreSexPiece *p, size_t n, bool adult, CoreSexVerdict *out)
{
  bool twice = false;
  weigh (p, n);
  CoreSex settled = settle (p, n, &twice);
  double prior = fmin (fmax (profile->male_prior, .001), .999);
  double total = log (prior / (1 - prior));
  for (size_t i = 0; i < n; i++)
    total += p[i].evidence.counted;
  if (twice)
    total = 0;
  else if (settled != CORE_SEX_UNKNOWN) /* pictures do not outvote an egg case: they conflict with it */
    total = settled == CORE_SEX_MALE ? fmax (total, LEAST_SETTLED) : fmin (total, -LEAST_SETTLED);
  out->male = 1 / (1 + exp (-total));
  out->female = 1 / (1 + exp (total));
  out->conflict = twice;
  judge (profile, p, n, settled, out);
  find_conflict (p, n, out);
  find_too_early (profile, p, n, adult, out);
  find_asks (profile, p, n, adult, out);
}

void
core_sex_input_init (CoreSexInput *self, CoreKind from)
{
  memset (self, 0, sizeof *self);
  self->reading.from = from;
  self->reading.stage = self->reading.count = self->reading.side = -1;
  self->reading.last_plate = self->reading.method = -1;
  self->reading.small_plate = CORE_SMALL_UNKNOWN;
  self->reading.convention = CORE_CONVENTION_UNKNOWN;
  self->reading.wing_ratio = self->reading.wing_sd = NAN;
  self->reading.tegmen_pronotum = self->reading.tegmen_pronotum_sd = NAN;
}

void
core_sex_input_moults (CoreSexInput *self, int moults)
{
  memset (self->moults_p, 0, sizeof self->moults_p);
  if (moults >= 0)
    self->moults_p[moults > CORE_MAX_MOULTS ? CORE_MAX_MOULTS : moults] = 1;
}

/* adult: it is now, whatever stage was read. */
static CoreStatus
combine (const CoreProfile *profile,
         const CoreSexInput *inputs,
         size_t n,
         bool adult,
         CoreSexVerdict *out)
{
  memset (out, 0, sizeof *out);
  size_t room = n * CORE_PIECES_PER_INPUT;
  CoreSexPiece *pieces = calloc (room ? room : 1, sizeof *pieces);
  out->evidence = calloc (room ? room : 1, sizeof *out->evidence);
  if (!pieces || !out->evidence)
    {
      free (pieces);
      core_sex_verdict_clear (out);
      return CORE_NO_MEMORY;
    }
  for (size_t i = 0; i < n; i++)
    adult |= inputs[i].adult;
  out->n = core_sex_pieces (profile, inputs, n, pieces);
  conclude (profile, pieces, out->n, adult, out);
  for (size_t i = 0; i < out->n; i++)
    out->evidence[i] = pieces[i].evidence;
  free (pieces);
  return CORE_OK;
}

CoreStatus
core_sex_combine (const CoreProfile *profile,
                  const CoreSexInput *inputs,
                  size_t n,
                  CoreSexVerdict *out)
{
  return combine (profile, inputs, n, false, out);
}

/* One picture recorded twice is one picture: the same hash is the same view. */
static CoreId
first_of_hash (const CoreState *state, CoreId photo)
{
  const char *hash = NULL;
  for (size_t i = 0; i < state->photos.n && !hash; i++)
    if (core_id_equal (state->photos.v[i].photo, photo))
      hash = state->photos.v[i].hash;
  for (size_t i = 0; hash && hash[0] && i < state->photos.n; i++)
    if (strcmp (state->photos.v[i].hash, hash) == 0)
      return state->photos.v[i].photo;
  return photo;
}

/* Shed at the beginning of the first stage known: it shows the stage before that one. */
static bool
shed_before_first (const CoreState *state, const CoreSexReading *reading)
{
  return reading->of_shed && reading->stage < 0 && state->stages.n > 0 &&
         reading->day >= state->stages.v[0].hi;
}

static void
fill_stage (const CoreState *state, CoreSexInput *input)
{
  int at = input->reading.stage, last = (int) state->stages.n - 1;
  if ((at < 0 && !shed_before_first (state, &input->reading)) || at > last)
    return;
  int back = last - at;
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    input->moults_p[m > back ? m - back : 0] += state->moults_p[m];
  if (at < 0)
    return;
  const CoreStage *stage = &state->stages.v[at];
  bool seen = stage->seen == CORE_SEEN_ADULT && input->reading.day >= stage->seen_day;
  input->adult = seen || (at == last && state->adult && input->reading.day >= state->adult_seen);
}

CoreStatus
core_sex_of_state (const CoreProfile *profile, const CoreState *state, CoreSexVerdict *out)
{
  size_t n = state->sex.n;
  memset (out, 0, sizeof *out);
  CoreSexInput *inputs = calloc (n ? n : 1, sizeof *inputs);
  if (!inputs)
    return CORE_NO_MEMORY;
  for (size_t i = 0; i < n; i++)
    {
      inputs[i].reading = state->sex.v[i];
      if (!core_id_is_none (inputs[i].reading.photo))
        inputs[i].reading.photo = first_of_hash (state, inputs[i].reading.photo);
      fill_stage (state, &inputs[i]);
    }
  CoreStatus status = combine (profile, inputs, n, state->adult || state->probably_adult, out);
  free (inputs);
  return status;
}

void
core_sex_verdict_clear (CoreSexVerdict *self)
{
  free (self->evidence);
  memset (self, 0, sizeof *self);
}
