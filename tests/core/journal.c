/* SPDX-License-Identifier: GPL-3.0-or-later */
/* journal.c — small journals for tests of the fold. */
#include "journal.h"

#include <math.h>
#include <string.h>

CoreId
test_id (uint64_t number)
{
  CoreId id = { .b = { 1, 0x90, 0xa0, 0xb0, 0xc0, 0xd0, 0x70, 0 } };

  for (int i = 0; i < 8; i++)
    id.b[15 - i] = (uint8_t) (number >> (8 * i));
  id.b[8] |= 0x80;
  return id;
}

Journal *
journal_new (void)
{
  Journal *self = g_new0 (Journal, 1);

  self->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);
  self->subject = test_id (1);
  self->next = 1000;
  return self;
}

void
journal_free (Journal *self)
{
  g_ptr_array_unref (self->entries);
  g_free (self);
}

static void
set_part (CoreEntry *entry, const char *part)
{
  g_auto (GStrv) pair = g_strsplit (part, "=", 2);

  if (strcmp (pair[0], "bulk") == 0)
    entry->bulk = true;
  else if (strcmp (pair[0], "earliest") == 0)
    entry->earliest = (CoreDay) g_ascii_strtoll (pair[1], NULL, 10);
  else if (strcmp (pair[0], "minute") == 0)
    entry->minute = (int16_t) g_ascii_strtoll (pair[1], NULL, 10);
  else if (strcmp (pair[0], "names") == 0)
    entry->names = test_id ((uint64_t) g_ascii_strtoll (pair[1], NULL, 10));
  else
    g_assert_cmpint (core_entry_set_text (entry, pair[0], pair[1]), ==, CORE_VALUE_OK);
}

CoreEntry *
journal_add (Journal *self, CoreDay day, const char *text)
{
  g_auto (GStrv) parts = g_strsplit (text, "|", -1);
  CoreKind kind = core_kind_from_name (parts[0]);
  CoreEntry *entry = core_entry_new (kind);

  g_assert_cmpint (kind, !=, CORE_KIND_NONE);
  entry->id = test_id (self->next++);
  entry->subject = self->subject;
  entry->day = day;
  for (int i = 1; parts[i] != NULL; i++)
    set_part (entry, parts[i]);
  g_assert_cmpint (core_entry_complete (entry, NULL), ==, CORE_VALUE_OK);
  g_ptr_array_add (self->entries, entry);
  return entry;
}

void
fold_live (CoreEntry *const *entries,
           size_t n,
           CoreId subject,
           CoreSubjectKind kind,
           CoreState *out)
{
  g_autofree uint8_t *live = g_new0 (uint8_t, n + 1);
  g_autofree const CoreEntry **kept = g_new0 (const CoreEntry *, n + 1);
  const CoreEntry *const *all = (const CoreEntry *const *) entries;
  CoreConflict *conflicts = NULL;
  size_t n_conflicts = 0, n_kept = 0;

  g_assert_cmpint (core_live (all, n, live, &conflicts, &n_conflicts), ==, CORE_OK);
  for (size_t i = 0; i < n; i++)
    if (live[i])
      kept[n_kept++] = entries[i];
  g_assert_cmpint (core_fold (subject, kind, kept, n_kept, out), ==, CORE_OK);
  for (size_t i = 0; i < n_conflicts; i++)
    g_assert_cmpint (core_state_add_conflict (out, conflicts[i]), ==, CORE_OK);
  free (conflicts);
}

void
journal_fold (const Journal *self, CoreSubjectKind kind, CoreState *out)
{
  fold_live ((CoreEntry *const *) self->entries->pdata, self->entries->len, self->subject, kind,
             out);
}

/* ---- deep comparison ---- */

static gboolean
same_number (double a, double b)
{
  return (isnan (a) && isnan (b)) || a == b;
}

#define SAME(what)                                                                                 \
  do                                                                                               \
    {                                                                                              \
      if (!(what))                                                                                 \
        {                                                                                          \
          g_test_message ("states differ: %s", #what);                                             \
          return FALSE;                                                                            \
        }                                                                                          \
    }                                                                                              \
  while (0)
#define SAME_FIELD(f) SAME (x->f == y->f)
#define SAME_REAL(f) SAME (same_number (x->f, y->f))
#define SAME_ID(f) SAME (core_id_equal (x->f, y->f))
#define SAME_TEXT(f) SAME (strcmp (x->f, y->f) == 0)

static gboolean
same_stage (const CoreStage *x, const CoreStage *y)
{
  SAME_FIELD (start);
  SAME_REAL (lo);
  SAME_REAL (hi);
  SAME_FIELD (earliest_given);
  SAME_FIELD (outcome);
  SAME_FIELD (seen_happening);
  SAME_FIELD (of_lot);
  SAME_FIELD (found);
  SAME_FIELD (seen);
  SAME_FIELD (seen_day);
  SAME_ID (seen_entry);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_look (const CoreLook *x, const CoreLook *y)
{
  SAME_FIELD (day);
  SAME_REAL (t);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_meal (const CoreMeal *x, const CoreMeal *y)
{
  SAME_FIELD (day);
  SAME_FIELD (prey);
  SAME_FIELD (n);
  SAME_FIELD (outcome);
  SAME_FIELD (gone);
  SAME_FIELD (bulk);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_sign (const CoreSignSeen *x, const CoreSignSeen *y)
{
  SAME_FIELD (sign);
  SAME_FIELD (first);
  SAME_FIELD (last);
  SAME_REAL (prev_look);
  SAME_FIELD (times);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_stay (const CoreStay *x, const CoreStay *y)
{
  SAME_FIELD (day);
  SAME_ID (place);
  SAME_REAL (at);
  SAME_REAL (height_mm);
  SAME_REAL (width_mm);
  SAME_REAL (depth_mm);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_measure (const CoreMeasure *x, const CoreMeasure *y)
{
  SAME_FIELD (day);
  SAME_FIELD (what);
  SAME_REAL (mm);
  SAME_REAL (sd);
  SAME_FIELD (stage);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_reading (const CoreSexReading *x, const CoreSexReading *y)
{
  SAME_FIELD (from);
  SAME_FIELD (day);
  SAME_FIELD (stage);
  SAME_FIELD (of_shed);
  SAME_FIELD (of_other);
  SAME_FIELD (side);
  SAME_FIELD (count);
  SAME_FIELD (by_keeper);
  for (int i = 0; i < 11; i++)
    SAME_REAL (likelihood[i]);
  SAME_REAL (likelihood_none);
  SAME_FIELD (small_plate);
  SAME_FIELD (convention);
  SAME_FIELD (last_plate);
  SAME_REAL (wing_ratio);
  SAME_REAL (wing_sd);
  SAME_REAL (tegmen_pronotum);
  SAME_REAL (tegmen_pronotum_sd);
  SAME_TEXT (cue);
  SAME_FIELD (cue_sex);
  SAME_FIELD (method);
  SAME_FIELD (sex);
  SAME_FIELD (best);
  SAME_ID (photo);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_photo (const CorePhotoRef *x, const CorePhotoRef *y)
{
  SAME_FIELD (day);
  SAME_ID (photo);
  SAME_TEXT (hash);
  SAME_FIELD (taken);
  SAME_FIELD (stage);
  SAME_FIELD (of_shed);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_mark (const CoreRuleMark *x, const CoreRuleMark *y)
{
  SAME_TEXT (rule);
  SAME_FIELD (day);
  SAME_FIELD (until);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_trouble (const CoreTroubleSeen *x, const CoreTroubleSeen *y)
{
  SAME_FIELD (what);
  SAME_FIELD (day);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_reading_at (const CoreReadingAt *x, const CoreReadingAt *y)
{
  SAME_FIELD (day);
  SAME_FIELD (minute);
  SAME_REAL (t);
  SAME_REAL (rh);
  SAME_FIELD (inside);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_setting (const CoreSetting *x, const CoreSetting *y)
{
  SAME_TEXT (key);
  SAME_TEXT (value);
  SAME_FIELD (day);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_conflict (const CoreConflict *x, const CoreConflict *y)
{
  SAME_FIELD (kind);
  SAME_ID (entry);
  SAME_ID (other);
  return TRUE;
}

#define SAME_ARRAY(f, same)                                                                        \
  do                                                                                               \
    {                                                                                              \
      SAME_FIELD (f.n);                                                                            \
      for (size_t i = 0; i < x->f.n; i++)                                                          \
        SAME (same (&x->f.v[i], &y->f.v[i]));                                                      \
    }                                                                                              \
  while (0)

static gboolean
same_names (const CoreState *x, const CoreState *y)
{
  SAME_ID (subject);
  SAME_FIELD (kind);
  SAME_FIELD (exists);
  SAME_TEXT (number);
  SAME_TEXT (code);
  SAME_TEXT (name);
  SAME_TEXT (species);
  SAME_ID (lot);
  SAME_FIELD (lot_since);
  SAME_ID (lot_round);
  SAME_FIELD (first_day);
  SAME_FIELD (hatched);
  SAME_FIELD (hatched_day);
  SAME_FIELD (hatched_earliest);
  SAME_ID (hatched_entry);
  SAME_FIELD (acquired);
  SAME_FIELD (arrived);
  SAME_FIELD (adult_claimed);
  SAME_FIELD (alive_last);
  SAME_TEXT (claim_stage);
  SAME_FIELD (claim_scheme);
  SAME_FIELD (end);
  SAME_FIELD (end_day);
  SAME_ID (end_entry);
  SAME_FIELD (lent);
  SAME_FIELD (looks_dead);
  SAME_FIELD (called);
  SAME_ID (called_entry);
  SAME_FIELD (ahead.n);
  SAME_FIELD (ahead.out);
  SAME_FIELD (ahead.first);
  SAME_FIELD (ahead.day);
  SAME_ID (ahead.entry);
  SAME_FIELD (doubtful_since);
  SAME_ID (doubtful_entry);
  return TRUE;
}

static gboolean
same_body (const CoreState *x, const CoreState *y)
{
  SAME_FIELD (basis);
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    SAME_REAL (moults_p[m]);
  SAME_FIELD (moults);
  SAME_REAL (moults_sd);
  SAME_FIELD (subadult);
  SAME_FIELD (probably_adult);
  SAME_FIELD (adult);
  SAME_FIELD (adult_seen);
  SAME_ID (adult_entry);
  SAME_FIELD (last_offered);
  SAME_FIELD (last_taken);
  SAME_ID (last_offered_entry);
  SAME_ID (last_taken_entry);
  SAME_FIELD (refusals_since_taken);
  SAME_FIELD (belly);
  SAME_FIELD (belly_day);
  SAME_ID (belly_entry);
  SAME_FIELD (misted);
  SAME_FIELD (watered);
  SAME_FIELD (cleaned);
  SAME_FIELD (drank);
  SAME_FIELD (drank_eagerly);
  SAME_ID (misted_entry);
  SAME_ID (watered_entry);
  SAME_ID (cleaned_entry);
  SAME_ID (drank_entry);
  return TRUE;
}

static gboolean
same_step (const CoreTallyStep *x, const CoreTallyStep *y)
{
  SAME_FIELD (day);
  SAME_FIELD (kind);
  SAME_FIELD (known);
  SAME_FIELD (counted);
  SAME_FIELD (about);
  SAME_FIELD (change);
  SAME_FIELD (count);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_tally (const CoreTally *x, const CoreTally *y)
{
  SAME_FIELD (known);
  SAME_FIELD (counted);
  SAME_FIELD (lost_about);
  SAME_FIELD (count);
  SAME_FIELD (began);
  SAME_FIELD (began_about);
  SAME_FIELD (dead);
  SAME_FIELD (left);
  SAME_FIELD (escaped);
  SAME_FIELD (lost_unseen);
  SAME_FIELD (found_more);
  SAME_FIELD (separated);
  SAME_FIELD (split_off);
  SAME_FIELD (joined_in);
  SAME_FIELD (missing);
  SAME_FIELD (gone);
  SAME_FIELD (count_day);
  SAME_ID (count_entry);
  return TRUE;
}

static gboolean
same_hatching (const CoreHatching *x, const CoreHatching *y)
{
  SAME_FIELD (day);
  SAME_FIELD (earliest);
  SAME_FIELD (n);
  SAME_FIELD (counted);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_laying (const CoreLaying *x, const CoreLaying *y)
{
  SAME_FIELD (day);
  SAME_FIELD (earliest);
  SAME_FIELD (series);
  SAME_ID (eggcase);
  SAME_ID (entry);
  return TRUE;
}

static gboolean
same_place (const CorePlaceState *x, const CorePlaceState *y)
{
  SAME_ID (within);
  SAME_REAL (day_c);
  SAME_REAL (night_c);
  SAME_REAL (light_h);
  SAME_REAL (height_mm);
  SAME_REAL (width_mm);
  SAME_REAL (depth_mm);
  SAME_TEXT (heater);
  SAME_TEXT (substrate);
  SAME_FIELD (power_cut);
  SAME_REAL (power_lowest);
  SAME_ID (power_entry);
  SAME_ARRAY (readings, same_reading_at);
  return TRUE;
}

static gboolean
same_egg (const CoreEggState *x, const CoreEggState *y)
{
  SAME_FIELD (laid_earliest);
  SAME_FIELD (laid_day);
  SAME_ID (laid_entry);
  SAME_FIELD (hardened);
  SAME_ID (hardened_entry);
  SAME_FIELD (hatched);
  SAME_FIELD (hatched_about);
  SAME_FIELD (in_lots);
  SAME_ARRAY (hatchings, same_hatching);
  return TRUE;
}

static gboolean
same_culture (const CoreCultureState *x, const CoreCultureState *y)
{
  SAME_FIELD (prey);
  SAME_FIELD (started);
  SAME_ID (entry);
  return TRUE;
}

gboolean
core_state_equal (const CoreState *x, const CoreState *y)
{
  SAME (same_names (x, y));
  SAME (same_body (x, y));
  SAME (same_place (&x->place, &y->place));
  SAME (same_tally (&x->tally, &y->tally));
  SAME (same_egg (&x->egg, &y->egg));
  SAME (same_culture (&x->culture, &y->culture));
  SAME_ARRAY (steps, same_step);
  SAME_ARRAY (layings, same_laying);
  SAME_ARRAY (stages, same_stage);
  SAME (x->moult_days.n == y->moult_days.n);
  for (size_t i = 0; i < x->moult_days.n; i++)
    SAME (x->moult_days.v[i] == y->moult_days.v[i]);
  SAME_ARRAY (looks, same_look);
  SAME_ARRAY (meals, same_meal);
  SAME_ARRAY (signs, same_sign);
  SAME_ARRAY (measures, same_measure);
  SAME_ARRAY (troubles, same_trouble);
  SAME_ARRAY (stays, same_stay);
  SAME_ARRAY (done, same_mark);
  SAME_ARRAY (put_off, same_mark);
  SAME_ARRAY (sex, same_reading);
  SAME_ARRAY (photos, same_photo);
  SAME_ARRAY (settings, same_setting);
  SAME_ARRAY (conflicts, same_conflict);
  return TRUE;
}

void
journal_fold_lines (const JournalLine *lines, Journal *journal, CoreState *state)
{
  core_state_init (state);
  for (int i = 0; i < JOURNAL_MAX_LINES && lines[i].text != NULL; i++)
    journal_add (journal, lines[i].day, lines[i].text);
  journal_fold (journal, CORE_SUBJECT_ANIMAL, state);
}

static uint64_t prng = 1;

void
journal_seed (uint64_t seed)
{
  prng = UINT64_C (0x9e3779b97f4a7c15) * seed;
}

unsigned
journal_draw (unsigned n)
{
  prng ^= prng >> 12;
  prng ^= prng << 25;
  prng ^= prng >> 27;
  return (unsigned) ((prng * UINT64_C (2685821657736338717)) >> 33) % n;
}
