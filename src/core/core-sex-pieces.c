/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-sex-pieces.c — from a reading to pieces of evidence.
 *
 * A piece says what it says by itself; nothing here knows of other pieces,
 * except that a `sexed` entry steps back where marks of the same stage exist,
 * or a verdict would feed itself.
 */
#include "core/core-sex-pieces.h"

#include <math.h>
#include <string.h>

#include "core/core-sex-tables.h"

/* Sub-views: in the `sex` call wings, cue and build are views of their own. */
enum
{
  VIEW_PLATES,
  VIEW_WINGS,
  VIEW_CUE,
  VIEW_OTHER,
  N_VIEWS
};

/* A stage that nobody knows is taken as any of the first eight (ours). */
#define UNKNOWN_STAGES 8

typedef struct
{
  const CoreProfile *profile;
  const CoreSexInput *input;
  size_t index, photo_index; /* of the input; of the first input with its photo */
  int mode;                  /* moults, -1 unknown */
  double readable;           /* chance that plates can be read */
  CoreSexPiece *out;
  size_t n;
} Reader;

static int
stage_mode (const CoreSexInput *input)
{
  int mode = -1;
  double best = 0;
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    if (input->moults_p[m] > best)
      {
        best = input->moults_p[m];
        mode = m;
      }
  return mode;
}

/* Chance that the stage lies at `from` moults or later. */
static double
chance_from (const CoreSexInput *input, int from)
{
  double sum = 0, late = 0;
  if (input->adult)
    return 1;
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    {
      sum += input->moults_p[m];
      if (m >= from)
        late += input->moults_p[m];
    }
  if (sum > 0)
    return late / sum;
  int readable = UNKNOWN_STAGES - from;
  return readable <= 0 ? 0 : fmin (1, (double) readable / UNKNOWN_STAGES);
}

/* Moults stand in for a stage that is not known; a skin older than every stage stays before. */
static int
stage_key (const CoreSexInput *input, int mode)
{
  return input->reading.stage >= 0 || input->reading.of_shed ? input->reading.stage : mode;
}

static CoreSexPiece *
add (Reader *r, CoreEvidenceKind kind, int sub, double log_odds, CoreWeightNote note)
{
  const CoreSexReading *reading = &r->input->reading;
  CoreSexPiece *p = &r->out[r->n++];
  memset (p, 0, sizeof *p);
  p->evidence.kind = kind;
  p->evidence.photo = reading->photo;
  p->evidence.entry = reading->entry;
  p->evidence.moults = r->mode;
  p->evidence.log_odds = log_odds;
  p->evidence.note = note;
  p->evidence.says = log_odds > 0   ? CORE_SEX_MALE
                     : log_odds < 0 ? CORE_SEX_FEMALE
                                    : CORE_SEX_UNKNOWN;
  p->photo = !core_id_is_none (reading->photo);
  p->view = (int) (p->photo ? r->photo_index : r->index) * N_VIEWS +
            (r->input->from_call ? sub : VIEW_PLATES);
  p->photo |= r->input->from_call && sub == VIEW_PLATES;
  p->stage = stage_key (r->input, r->mode);
  p->best = reading->best;
  p->informs =
    note != CORE_WEIGHT_UNCLEAR && note != CORE_WEIGHT_WRONG_SIDE &&
    note != CORE_WEIGHT_TOO_EARLY && note != CORE_WEIGHT_NOT_THIS_KIND &&
    note != CORE_WEIGHT_NO_METHOD;
  return p;
}

static bool
has_likelihood (const CoreSexReading *reading)
{
  for (int k = CORE_PLATES_MIN; k <= CORE_PLATES_MAX; k++)
    if (reading->likelihood[k] > 0)
      return true;
  return false;
}

static CoreWeightNote
plates_note (const Reader *r)
{
  if (r->input->reading.side == CORE_SIDE_BACK || r->input->reading.side == CORE_SIDE_FLANK)
    return CORE_WEIGHT_WRONG_SIDE;
  return r->readable <= 0 ? CORE_WEIGHT_TOO_EARLY : CORE_WEIGHT_FULL;
}

static void
ask_about_count (const Reader *r, bool confirmed, CoreSexPiece *p)
{
  const CoreSexReading *reading = &r->input->reading;
  bool appendages = reading->convention == CORE_CONVENTION_APPENDAGES;
  if (reading->small_plate == CORE_SMALL_UNKNOWN && !appendages)
    p->ask |= CORE_ASK_SMALL_PLATE;
  if (confirmed && core_sex_convention_fits (r->profile, CORE_CONVENTION_APPENDAGES) &&
      reading->convention == CORE_CONVENTION_UNKNOWN)
    p->ask |= CORE_ASK_CONVENTION;
  if (!confirmed)
    p->ask |= CORE_ASK_CONFIRM;
  if (r->mode < 0 && !r->input->adult)
    p->ask |= CORE_ASK_STAGE;
}

/* So many plates are on no mantis: the marks begin on the thorax, or end on the cerci. The small
 * plate is one more where it is said to be counted; of an empusid five may be appendages. */
static bool
odd_count (const CoreProfile *profile, const CoreSexReading *reading)
{
  int small = reading->small_plate == CORE_SMALL_COUNTED;
  bool plates = reading->convention == CORE_CONVENTION_PLATES ||
                (reading->convention == CORE_CONVENTION_UNKNOWN &&
                 !core_sex_convention_fits (profile, CORE_CONVENTION_APPENDAGES));
  return plates && (reading->count - small < CORE_PLATES_FEWEST || reading->count - small > CORE_PLATES_MOST);
}

/* What the lines say of the sex, less where the marks they lie along are in doubt. */
static CoreWeightNote
doubt_marks (const Reader *r, double *log_odds)
{
  const CoreSexReading *reading = &r->input->reading;
  bool odd = odd_count (r->profile, reading);
  if (reading->axis_by_program)
    *log_odds = core_plates_open_log_odds (r->profile, reading->count, reading->small_plate,
                                           reading->convention, r->readable);
  if (odd)
    *log_odds *= CORE_ODD_COUNT;
  return odd                        ? CORE_WEIGHT_ODD_COUNT
         : reading->axis_by_program ? CORE_WEIGHT_MARKS_OPEN
                                    : CORE_WEIGHT_FULL;
}

static void
read_count (Reader *r)
{
  const CoreSexReading *reading = &r->input->reading;
  bool confirmed = reading->by_keeper && reading->count >= 0;
  if (!confirmed && !has_likelihood (reading) && reading->count < 0)
    return;
  CoreWeightNote note = plates_note (r);
  double log_odds = 0;
  if (note == CORE_WEIGHT_FULL && confirmed &&
      !core_sex_convention_fits (r->profile, reading->convention))
    note = CORE_WEIGHT_NOT_THIS_KIND;
  else if (note == CORE_WEIGHT_FULL && confirmed)
    {
      log_odds = core_plates_log_odds (r->profile, reading->count, reading->small_plate,
                                       reading->convention, r->readable);
      if (!r->input->from_call)
        note = doubt_marks (r, &log_odds);
    }
  else if (note == CORE_WEIGHT_FULL)
    {
      note = CORE_WEIGHT_UNCONFIRMED;
      log_odds = core_plates_finder_log_odds (r->profile, reading->likelihood, reading->likelihood_none,
                                              reading->small_plate, r->readable);
    }
  CoreSexPiece *p = add (r, CORE_EVIDENCE_COUNT, VIEW_PLATES, log_odds, note);
  p->evidence.value = reading->count;
  p->evidence.value2 = reading->small_plate;
  if (note == CORE_WEIGHT_ODD_COUNT || note == CORE_WEIGHT_MARKS_OPEN)
    p->ask |= CORE_ASK_MARKS;
  if (note != CORE_WEIGHT_WRONG_SIDE)
    ask_about_count (r, confirmed, p);
}

static void
read_last_plate (Reader *r)
{
  const CoreSexReading *reading = &r->input->reading;
  if (reading->last_plate < 0)
    return;
  CoreWeightNote note = plates_note (r);
  if (note == CORE_WEIGHT_FULL && reading->last_plate == CORE_LAST_UNCLEAR)
    note = CORE_WEIGHT_UNCLEAR;
  double log_odds =
    note == CORE_WEIGHT_FULL ? core_last_plate_log_odds (reading->last_plate, r->readable) : 0;
  add (r, CORE_EVIDENCE_LAST_PLATE, VIEW_PLATES, log_odds, note)->evidence.value =
    reading->last_plate;
}

static void
read_wings (Reader *r)
{
  const CoreSexReading *reading = &r->input->reading;
  bool adult = r->input->adult, flag = false;
  if (isfinite (reading->wing_ratio) && reading->wing_ratio > 0)
    {
      double lo = core_wings_log_odds (reading->wing_ratio, reading->wing_sd, &flag);
      CoreWeightNote note = !adult ? CORE_WEIGHT_TOO_EARLY
                            : flag ? CORE_WEIGHT_SPANS
                                   : CORE_WEIGHT_FULL;
      CoreSexPiece *p = add (r, CORE_EVIDENCE_WINGS, VIEW_WINGS, adult ? lo : 0, note);
      p->evidence.value = reading->wing_ratio;
      p->evidence.value2 = reading->wing_sd;
    }
  if (isfinite (reading->tegmen_pronotum) && reading->tegmen_pronotum > 0)
    {
      double lo = core_tegmen_log_odds (r->profile, reading->tegmen_pronotum,
                                        reading->tegmen_pronotum_sd, &flag);
      CoreWeightNote note = !adult ? CORE_WEIGHT_TOO_EARLY
                            : flag ? CORE_WEIGHT_UNCLEAR
                                   : CORE_WEIGHT_FULL;
      CoreSexPiece *p = add (r, CORE_EVIDENCE_TEGMEN, VIEW_WINGS, adult ? lo : 0, note);
      p->evidence.value = reading->tegmen_pronotum;
      p->evidence.value2 = reading->tegmen_pronotum_sd;
    }
}

static const char *const cues[] = { "antennae",  "brow",  "collar", "crown",
                                    "leg-lobes", "lobes", "shield", NULL };

const char *
core_sex_cue_name (size_t i)
{
  return i < sizeof cues / sizeof *cues ? cues[i] : NULL;
}

bool
core_sex_convention_fits (const CoreProfile *profile, int convention)
{
  return convention != CORE_CONVENTION_APPENDAGES || profile->empusid || profile->general;
}

bool
core_sex_cue_known (const CoreProfile *profile, const char *name)
{
  for (size_t i = 0; i < profile->n_cues; i++)
    if (strcmp (profile->cues[i].name, name) == 0)
      return true;
  for (size_t i = 0; cues[i]; i++)
    if (strcmp (cues[i], name) == 0)
      return true;
  return false;
}

/* What the cue is worth, for which sex, and how likely the stage shows it. Odds of 1: the kind is
 * not known to have it. */
static CoreSex
cue_weight (const Reader *r, double *odds, double *readable)
{
  const CoreSexReading *reading = &r->input->reading;
  CoreSex says = reading->cue_sex != CORE_SEX_UNKNOWN ? reading->cue_sex : reading->sex;
  *odds = 1;
  *readable = r->readable;
  for (size_t i = 0; i < r->profile->n_cues; i++)
    {
      const CoreSexCue *cue = &r->profile->cues[i];
      if (strcmp (cue->name, reading->cue) != 0)
        continue;
      *readable =
        cue->adult_only ? (r->input->adult ? 1 : 0) : chance_from (r->input, cue->from_moults);
      if (says == CORE_SEX_UNKNOWN)
        says = cue->sex;
      /* The profile's odds are for the cue when present; its absence says no more. */
      *odds = cue->odds > 1 ? cue->odds : CORE_ODDS_CUE;
      if (cue->sex != CORE_SEX_UNKNOWN && cue->sex != says)
        *odds = fmin (*odds, CORE_ODDS_CUE);
      return says;
    }
  if (r->profile->empusid && strcmp (reading->cue, "antennae") == 0)
    {
      *readable = r->input->adult ? 1 : 0;
      *odds = says == CORE_SEX_MALE ? CORE_ODDS_ANTENNAE : CORE_ODDS_CUE;
    }
  /* Sexed from life by a cue without a name: it may be any that the kind has. */
  else if (reading->cue[0] == '\0' && (r->profile->n_cues > 0 || r->profile->empusid))
    *odds = CORE_ODDS_CUE;
  return says;
}

static void
read_cue (Reader *r)
{
  double odds, readable;
  CoreSex says = cue_weight (r, &odds, &readable);
  CoreWeightNote note = says == CORE_SEX_UNKNOWN ? CORE_WEIGHT_UNCLEAR
                        : odds <= 1              ? CORE_WEIGHT_NOT_THIS_KIND
                        : readable <= 0          ? CORE_WEIGHT_TOO_EARLY
                                                 : CORE_WEIGHT_FULL;
  CoreSexPiece *p =
    add (r, CORE_EVIDENCE_CUE, VIEW_CUE, core_sex_log_odds (odds, says, readable), note);
  memcpy (p->evidence.cue, r->input->reading.cue, sizeof p->evidence.cue);
  p->evidence.cue[sizeof p->evidence.cue - 1] = 0;
}

static void
add_plain (Reader *r, CoreEvidenceKind kind, double odds, CoreSex says)
{
  add (r, kind, VIEW_OTHER, core_sex_log_odds (odds, says, 1),
       says == CORE_SEX_UNKNOWN ? CORE_WEIGHT_UNCLEAR : CORE_WEIGHT_FULL)
    ->stage = kind >= CORE_EVIDENCE_DESCENT ? 0 : stage_key (r->input, r->mode);
}

/* Only daughters come of an unmated mother. */
static void
read_descent (Reader *r, CoreSex sex)
{
  bool kin = r->profile->parthenogenetic || r->profile->general;
  if (sex == CORE_SEX_UNKNOWN || (kin && sex == CORE_SEX_FEMALE))
    add_plain (r, CORE_EVIDENCE_DESCENT, CORE_ODDS_DESCENT, sex);
  else
    add (r, CORE_EVIDENCE_DESCENT, VIEW_OTHER, 0, CORE_WEIGHT_NOT_THIS_KIND)->stage = 0;
}

static void
read_sexed_count (Reader *r)
{
  const CoreSexReading *reading = &r->input->reading;
  int count = reading->sex == CORE_SEX_MALE ? 8 : reading->sex == CORE_SEX_FEMALE ? 6 : 0;
  CoreWeightNote note = !count             ? CORE_WEIGHT_UNCLEAR
                        : r->readable <= 0 ? CORE_WEIGHT_TOO_EARLY
                                           : CORE_WEIGHT_FULL;
  double lo = count ? core_plates_log_odds (r->profile, count, CORE_SMALL_UNKNOWN,
                                            CORE_CONVENTION_UNKNOWN, r->readable)
                    : 0;
  CoreSexPiece *p = add (r, CORE_EVIDENCE_COUNT, VIEW_PLATES, lo, note);
  p->evidence.value2 = CORE_SMALL_UNKNOWN;
  /* Such an entry has no place for the small plate or the convention: it asks for neither. */
  if (count && r->mode < 0 && !r->input->adult)
    p->ask |= CORE_ASK_STAGE;
}

static void
read_sexed (Reader *r)
{
  const CoreSexReading *reading = &r->input->reading;
  CoreSex sex = reading->sex;
  switch (reading->method)
    {
    case CORE_METHOD_COUNT:
      read_sexed_count (r);
      break;
    case CORE_METHOD_WINGS:
      add (r, CORE_EVIDENCE_WINGS, VIEW_WINGS,
           core_sex_log_odds (CORE_ODDS_WINGS, sex, r->input->adult),
           r->input->adult ? CORE_WEIGHT_FULL : CORE_WEIGHT_TOO_EARLY);
      break;
    case CORE_METHOD_CUE:
      read_cue (r);
      break;
    case CORE_METHOD_BUILD:
      add_plain (r, CORE_EVIDENCE_BUILD, CORE_ODDS_BUILD, sex);
      break;
    case CORE_METHOD_DESCENT:
      read_descent (r, sex);
      break;
    case CORE_METHOD_LAID:
      add_plain (r, CORE_EVIDENCE_LAID, CORE_ODDS_SETTLED, CORE_SEX_FEMALE);
      break;
    case CORE_METHOD_JOINED:
      add_plain (r, CORE_EVIDENCE_JOINED, CORE_ODDS_SETTLED, sex);
      break;
    case CORE_METHOD_CLAIM:
      add_plain (r, CORE_EVIDENCE_CLAIM, CORE_ODDS_CLAIM, sex);
      break;
    default:
      add (r, CORE_EVIDENCE_UNSAID, VIEW_OTHER, 0, CORE_WEIGHT_NO_METHOD);
    }
}

static void
read_input (Reader *r)
{
  switch (r->input->reading.from)
    {
    case CORE_KIND_MARKED:
      read_count (r);
      read_last_plate (r);
      read_wings (r);
      if (r->input->reading.cue[0])
        read_cue (r);
      break;
    case CORE_KIND_SEXED:
      read_sexed (r);
      break;
    case CORE_KIND_LAID:
      add_plain (r, CORE_EVIDENCE_LAID, CORE_ODDS_SETTLED, CORE_SEX_FEMALE);
      break;
    case CORE_KIND_ACQUIRED:
    case CORE_KIND_SET:
      add_plain (r, CORE_EVIDENCE_CLAIM, CORE_ODDS_CLAIM, r->input->reading.sex);
      break;
    default:
      break;
    }
}

/* A sexed entry counts for itself only by laid, joined, descent, claim, or
 * where nothing was marked in that stage. */
static bool
steps_back (const CoreSexInput *inputs, size_t n, size_t i)
{
  const CoreSexInput *self = &inputs[i];
  if (self->reading.from != CORE_KIND_SEXED || self->from_call ||
      self->reading.method >= CORE_METHOD_DESCENT)
    return false;
  int key = stage_key (self, stage_mode (self));
  for (size_t k = 0; k < n; k++)
    if (inputs[k].reading.from == CORE_KIND_MARKED && !inputs[k].reading.of_other &&
        stage_key (&inputs[k], stage_mode (&inputs[k])) == key)
      return true;
  return false;
}

static void
silence (CoreSexPiece *pieces, size_t n, CoreWeightNote note)
{
  for (size_t k = 0; k < n; k++)
    {
      pieces[k].informs = false;
      pieces[k].evidence.note = note;
    }
}

size_t
core_sex_pieces (const CoreProfile *profile,
                 const CoreSexInput *inputs,
                 size_t n,
                 CoreSexPiece *out)
{
  Reader r = { .profile = profile, .out = out };
  for (size_t i = 0; i < n; i++)
    {
      size_t before = r.n;
      r.input = &inputs[i];
      r.index = r.photo_index = i;
      for (size_t k = 0; k < i; k++)
        if (core_id_equal (inputs[k].reading.photo, r.input->reading.photo) &&
            !core_id_is_none (r.input->reading.photo))
          {
            r.photo_index = k;
            break;
          }
      r.mode = stage_mode (r.input);
      r.readable = chance_from (r.input, profile->readable_from);
      read_input (&r);
      if (r.input->reading.of_other)
        silence (out + before, r.n - before, CORE_WEIGHT_OF_OTHER);
      else if (steps_back (inputs, n, i))
        silence (out + before, r.n - before, CORE_WEIGHT_SAME_KIND);
    }
  return r.n;
}
