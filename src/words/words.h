/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words.h — every sentence and term for people: struct in, string out.
 *
 * WORDS_LOCAL speaks the language of the session through gettext (domain
 * "mantidary", with contexts) and writes numbers as the session's locale does;
 * WORDS_ENGLISH is the untranslated English of the contract (`text` in --json)
 * with '.' in every number. No state, no I/O. A `char *` is newly allocated and
 * never NULL (g_autofree); a `const char *` is static. Sentences begin with a
 * capital and end with a full stop; phrases ("about L5", "until Fri") do neither.
 *
 * Nothing uncertain is said like a fact: ranges stay ranges, "about" and
 * "likely" are never dropped. An unknown code of any kind gives a plain
 * phrase ("something else"), never a crash.
 */
#pragma once

#include <glib.h>

#include "core/core-entry.h"
#include "core/core-fasting.h"
#include "core/core-fold.h"
#include "core/core-forecast-lot.h"
#include "core/core-forecast.h"
#include "core/core-growth.h"
#include "core/core-pair.h"
#include "core/core-plan.h"
#include "core/core-round.h"
#include "core/core-sex.h"
#include "core/core-standin.h"
#include "core/core-state.h"
#include "words/words-tr.h"

G_BEGIN_DECLS

/* To whom and when: what most sentences need. */
typedef struct
{
  WordsLang lang;
  CoreDay today; /* CORE_DAY_NONE: days are never said relative to today */
  int scheme;    /* L-number of the hatchling: 1 or 2; others count as 1 */
} WordsView;

/* Once per program, after setlocale(): where the translations are. NULL = $MANTIDARY_LOCALEDIR (a
 * build tree), else the installed ones. */
void words_init (const char *locale_dir);

/* --- numbers, lists ---------------------------------------------------------- */

/* At most `decimals` places, no trailing zeros; NAN gives "unknown". */
char *words_number (WordsLang lang, double value, int decimals);
char *words_quantity (const WordsView *view, double value, CoreUnit unit); /* "3.5 days", "23 °C" */
char *words_days (WordsLang lang, double days);                            /* "1 day", "4 days" */
char *words_list (WordsLang lang, const char *const *items, gsize n);      /* "14, 33 and 41" */
/* Cups; three or more numbers that follow each other are a range: "1–12, 14a, 33", as a sentence
 * "1–12, 14a and 33". */
char *words_numbers (WordsLang lang, const char *const *numbers, gsize n, gboolean sentence);
char *words_percent (WordsLang lang, double p); /* "94 in 100", "under 1 in 100"; never 0 or 100 */

/* --- days -------------------------------------------------------------------- */

typedef enum
{
  WORDS_DAY_FULL,  /* "Tue 25 November" */
  WORDS_DAY_SHORT, /* "3 Sep" */
  WORDS_DAY_NEAR   /* "today", "yesterday", "Saturday" (within 6 days back), else short */
} WordsDayStyle;

/* The year is added where it is not today's and the day more than 90 days off. */
char *words_day (const WordsView *view, CoreDay day, WordsDayStyle style);
char *words_day_range (const WordsView *view, CoreDay lo, CoreDay hi); /* "3–9 December" */
const char *words_weekday (WordsLang lang, int weekday);               /* 0 = Monday: "Monday" */
const char *words_weekday_short (WordsLang lang, int weekday);         /* "Mon" */
const char *words_month (WordsLang lang, int month);                   /* 1…12: "January" */
char *words_clock (WordsLang lang, int minute);                        /* "14:05" */

/* --- terms ------------------------------------------------------------------- */

const char *words_subject_kind (WordsLang lang, CoreSubjectKind kind); /* "animal", "egg case" */
const char *words_kind (WordsLang lang, CoreKind kind);                /* "feeding", "moult" */
char *words_prey (WordsLang lang, int prey, int n); /* n = 0: "house flies"; else "2 house flies" */
const char *words_prey_one (WordsLang lang, int prey);         /* "house fly" */
const char *words_sign (WordsLang lang, int sign);             /* "hanging" */
const char *words_sign_question (WordsLang lang, int sign);    /* exactly what to look for */
const char *words_trouble (WordsLang lang, int what);          /* "fell" */
const char *words_plan_trouble (WordsLang lang, const CorePlan *plan); /* that of its plan */
const char *words_belly (WordsLang lang, int score);           /* 1…5: "sunken" … "tight" */
const char *words_cause (WordsLang lang, const char *cause);         /* "in a moult"; the word itself if new */
const char *words_moult_outcome (WordsLang lang, int outcome); /* "good, all limbs" */
const char *words_fed_outcome (WordsLang lang, int outcome);   /* "put in", "seen eaten" */
const char *words_dimension (WordsLang lang, int what);        /* "body", "head" … */
const char *words_group (WordsLang lang, CoreGroup group);     /* "hardy" */
const char *words_tag (WordsLang lang, CoreTag tag);           /* "common practice, no source" */
const char *words_cue (WordsLang lang, const char *cue);       /* "crown"; the name itself if new */
char *words_cue_as (WordsLang lang, const char *cue, CoreSex sex); /* "Crown: as in females" */
/* "species", "caution: Allergy", "interval: feed"; the key itself if new. */
char *words_setting (WordsLang lang, const char *key);
/* "pairing", "not needed", "3–5 days": the value of that setting; "not said" when empty. */
char *words_setting_value (const WordsView *view, const char *key, const char *value);

/* Label of a key of an entry in a form: "outcome", "length, mm". */
const char *words_key (WordsLang lang, CoreKey key);
/* Word of the i-th code of a key: words_code (lang, CORE_KIND_FED, CORE_KEY_OUTCOME, 1) is "seen
 * eaten". */
const char *words_code (WordsLang lang, CoreKind kind, CoreKey key, int i);

/* The trade name of a kind in that language; the scientific one where there is none. Borrowed. */
const char *words_profile_name (WordsLang lang, const CoreProfile *profile);

/* The same of a subject: what was typed where no profile fits (NULL), "kind unknown" without either. */
const char *words_species (WordsLang lang, const CoreProfile *profile, const char *typed);

/* --- stage ------------------------------------------------------------------- */

char *words_stage_number (int moults, int scheme); /* "L5"; "" when moults < 0 */
/* "L5", "about L5", "sub-adult", "adult since 3 Sep", "stage unknown". */
char *words_stage (const WordsView *view, const CoreState *state);
/* The same without dates, for a cup: "L5", "~L5", "sub", "adult", "?" */
char *words_stage_brief (const WordsView *view, const CoreState *state);
/* "fifth stage (hatchling = L1)": with the scheme, for what leaves the program. */
char *words_stage_long (const WordsView *view, const CoreState *state);
char *words_scheme (WordsLang lang, int scheme); /* "hatchling = L1" */

/* --- sex --------------------------------------------------------------------- */

const char *words_sex_sign (CoreVerdictWord verdict);            /* "♂" "♀" "♂?" "♀?" "?" */
const char *words_sex_trade (CoreVerdictWord verdict);           /* "1.0" "1.0?" "0.1?" "0.0.1" */
char *words_sex_counts (int males, int females, int unsexed);    /* "2.1.5", "2.1" */
char *words_sex (WordsLang lang, const CoreSexVerdict *verdict); /* "likely female, 94 in 100" */
const char *words_sex_plain (WordsLang lang, CoreSex sex);       /* "male" */
/* One sentence each: what was read, at which stage, and what it weighs. */
char *words_evidence (const WordsView *view, const CoreEvidence *evidence);
const char *words_evidence_kind (WordsLang lang, CoreEvidenceKind kind);
/* One sentence per bit of ask, in order of use; NULL-ended. */
GStrv words_asks (const WordsView *view, unsigned ask);
const char *
words_ask_id (unsigned bit); /* "small_plate": the contract's word; NULL = no such bit */
/* "Too early to tell: …, about 3–9 December."; forecast may be NULL. */
char *words_too_early (const WordsView *view, const CoreForecast *forecast);
/* What the bench says at the end: verdict, contradictions, too early. */
char *
words_verdict (const WordsView *view, const CoreSexVerdict *verdict, const CoreForecast *forecast);
const char *words_verdict_id (CoreVerdictWord verdict); /* "likely_male": the contract's word */

/* --- entries ----------------------------------------------------------------- */

typedef struct
{
  const CoreEntry *entry;
  const CoreState *state; /* of its subject, for stages and looks; may be NULL */
  gboolean taken_back;    /* void or replaced: said so */
  gboolean corrected;     /* is itself a correction */
  const char *place;      /* name of the subject that it names (a place, a lot, a parent); may be NULL */
  const CoreEntry *named; /* of a void: what it takes back in the end; may be NULL */
  const char *named_place; /* as place, of that */
  const CoreEntry
    *heir; /* of one that was corrected: what counts now; NULL = nothing, or not said */
  gboolean restores;      /* of a void: that is brought back again */
  const char *was_of;     /* number of the cup for which it was written; NULL = for this one */
  const char *now_of;     /* number of the cup to which it belongs now; NULL = to this one */
} WordsEntry;

/* The groups in which a timeline is filtered; every kind belongs to one, and what was corrected
 * or taken back to the last as well. */
typedef enum
{
  WORDS_GROUP_MEALS,
  WORDS_GROUP_GROWTH,
  WORDS_GROUP_SEX,
  WORDS_GROUP_CARE,
  WORDS_GROUP_FACTS,
  WORDS_GROUP_CORRECTIONS,
  WORDS_N_GROUPS
} WordsGroup;
WordsGroup words_entry_group_of (CoreKind kind);
const char *words_entry_group (WordsLang lang, WordsGroup group); /* "Moults and stages" */
/* "6 of 57 entries"; "57 entries" when all are shown. */
char *words_entries_shown (WordsLang lang, guint shown, guint all);

/* One line of a timeline, without its day: "house flies, 2: put in". */
char *words_entry (const WordsView *view, const WordsEntry *entry);
/* "Took back: 14 fed 2 house flies, and 12 more." `label` names the subject of the first. Was
 * that written for all, then the whole round is said: "Took back the round: 14 fed ...". */
char *words_change (const WordsView *view,
                    gboolean redo,
                    const char *label,
                    const char *place, /* or lot, that `first` names; may be NULL */
                    const CoreEntry *first,
                    gsize n_entries);

/* "Took back the correction. What counts again: 14: moulted, 14 Apr." */
char *words_correction_undone (const WordsView *view, const char *label, const char *place, const CoreEntry *again);

/* What was just written, as one says it: "cup 20 refused 2 moths", "cup 20: looked at"; of what is
 * no animal without the word cup. The subject may be NULL. */
char *words_written (const WordsView *view,
                     const char *label,
                     const CoreState *state,
                     const CoreEntry *entry);

/* --- lots -------------------------------------------------------------------- */

char *words_amount (WordsLang lang, gint64 n, gboolean counted); /* "96", "about 120" */
char *words_count_of (WordsLang lang, const CoreTally *tally);   /* the same, or "number unknown" */
/* "first moults about 3–5 June, half of it by about 6–8 June, the last about 9–14 June" */
char *words_lot_forecast (const WordsView *view, const CoreLotForecast *forecast);
/* A lot, an egg case or a culture as a whole. */
typedef struct
{
  const char *label;          /* "H1" */
  const char *species;        /* as people say it; "" = unknown */
  const CoreState *state;
  const CoreLotForecast *lot; /* of a lot; may be NULL */
  const CorePlan *plan;       /* may be NULL */
  const char *mother;         /* what the mother is called; NULL = unknown */
  int series;                 /* of an egg case: which of hers it is; 0 = unknown */
} WordsOther;
/* "About 120 in it, second stage, flies put in yesterday, first moults about …" */
char *words_other (const WordsView *view, const WordsOther *what);
/* All that its card shows, for assistive technology. */
char *words_other_cup (const WordsView *view, const WordsOther *what);
/* "At least one male and one female among them: 97 in 100." NULL where there is nothing to say. */
char *words_pair (const WordsView *view, const CorePair *pair);
/* Line by line: "140 at the beginning", "3 dead", … "Last counted Saturday."; char *, owned. */
GPtrArray *words_tally (const WordsView *view, const CoreTally *tally);
/* Of which day the first count is, where the lot was there before; NULL = it was not. */
char *words_tally_as_of (const WordsView *view, const CoreTally *tally);

/* --- tasks ------------------------------------------------------------------- */

const char *words_task_kind (WordsLang lang, CoreTaskKind kind);      /* "feed", "larger home" */
char *words_task_title (const WordsView *view, const CoreTask *task); /* "Feed: 2 house flies" */
char *words_task_when (const WordsView *view, const CoreTask *task);  /* "due today" */
/* "Left from earlier evenings: feed 14, 17 and 31; spray 22." `labels`: const char * by kind of task,
 * NULL = none. */
char *words_missed (WordsLang lang, GPtrArray *const labels[CORE_N_TASKS]); /* "" = none */
char *words_missed_unseen (WordsLang lang, const GPtrArray *labels, int days); /* "" = none */
char *words_missed_parts (WordsLang lang, GPtrArray *const labels[CORE_N_TASKS]); /* "feed 14; spray 22" */
/* Headings of a plan read as a list: "Today, Mon 1 June 2026" or another day; of what is held back. */
char *words_plan_day (const WordsView *view, CoreDay day);
const char *words_plan_held (WordsLang lang);
char *words_held (const WordsView *view, const CoreHeld *held);       /* "Feed: not until Fri" */
/* "leave alone; free again Sat" (Fri is the last held day), "leave alone until it has
 * moulted; look again tomorrow"; "" when nothing is held. */
char *words_hold (const WordsView *view, const CoreHold *hold);
char *words_hold_brief (const WordsView *view, const CoreHold *hold); /* "free again Sat" */
char *words_reason (const WordsView *view, const CoreReason *reason); /* one sentence */
/* FALSE: words has no sentence for this rule (words_reason then says the id). */
gboolean words_reason_known (const char *rule);

/* --- forecast ---------------------------------------------------------------- */

/* "next moult about 3–9 December", "longer than usual …", or why there is none. */
char *words_forecast (const WordsView *view, const CoreForecast *forecast);
/* The same of an animal: a range that stands on little is called a rough guess. */
char *words_forecast_of (const WordsView *view,
                         const CoreState *state,
                         const CoreForecast *forecast);
/* Why it should not be sent today, with the range; NULL = nothing speaks against it. */
char *words_travel (const WordsView *view, const CoreState *state, const CoreForecast *forecast);
/* The first day of its range as it is said: today, where it may come tonight. */
CoreDay words_forecast_from (const CoreForecast *forecast);
/* More likely than not it has moulted since: its stage is what was last seen. */
gboolean words_stage_stale (const CoreForecast *forecast);
/* "3–9 December": its days as they are said, where they may be (words_forecast_has_days). */
char *words_forecast_range (const WordsView *view, const CoreForecast *forecast);
/* At its temperature no moult is to be expected: words_forecast says so, why and what it wants,
 * and no page says days. */
gboolean words_forecast_none_expected (const CoreForecast *forecast);
char *words_standstill (const WordsView *view, const CoreStandstill *still);
/* More likely than not no moult comes: no page says days, nor does words_forecast. */
gboolean words_forecast_doubtful (const CoreForecast *forecast);
/* Neither doubtful nor probably past already nor standing still: its days may be shown. */
gboolean words_forecast_has_days (const CoreForecast *forecast);
/* What would change beside what is; days CORE_DAY_NONE = none due. */
/* What an answer to “what if” does not know. */
enum
{
  WORDS_WHAT_IF_FOOD = 1,     /* what other food does to the pace */
  WORDS_WHAT_IF_NO_WARMTH = 2 /* the temperature of where it would stand */
};
/* `unknown`: of these; what is unknown is never said to stay as it is. */
char *
words_what_if_moult (const WordsView *view, const CoreForecast *now, const CoreForecast *then, guint unknown);
/* The sentences of what is not known; NULL = nothing. */
char *words_what_if_unknown (const WordsView *view, guint unknown);
char *
words_what_if_lot (const WordsView *view, const CoreLotForecast *now, const CoreLotForecast *then, guint unknown);
char *words_what_if_meal (const WordsView *view, CoreDay now, CoreDay now_after, CoreDay then, CoreDay then_after);
/* Its kind or its stage is not known: the range is a rough guess. */
gboolean words_forecast_rough (const CoreState *state, gboolean species_known);
const char *words_no_forecast (WordsLang lang, CoreNoForecast why);
const char *words_no_forecast_id (CoreNoForecast why); /* the contract's word for `why` */
char *words_adult (const WordsView *view,
                   const CoreForecast *forecast); /* "adult about 3 Jan – 2 Mar" */
char *words_chances (const WordsView *view,
                     const CoreForecast *forecast); /* within 3, 7, 14 days */
/* "shift": how much one fact moved the middle: "2 days later", "1 day sooner", "" for none. */
char *words_shift (WordsLang lang, double days);
/* What is the matter with one that refuses: a headline, what it rests on, what to do and what not;
 * all NULL where it does not refuse. */
typedef struct
{
  char *answer, *because, *todo, *avoid;
} WordsFasting;
WordsFasting words_fasting (const WordsView *view, const CoreFasting *fasting);
void words_fasting_clear (WordsFasting *self);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (WordsFasting, words_fasting_clear)
char *words_growth (const WordsView *view, const CoreGrowth *growth, CoreDimension what);

/* The one written sentence of an animal's page; hold, forecast, verdict may be NULL. */
char *words_animal (const WordsView *view,
                    const CoreState *state,
                    const CoreSexVerdict *verdict,
                    const CoreForecast *forecast,
                    const CoreHold *hold);
/* All that a cup on the shelf shows, for assistive technology. */
typedef struct
{
  const char *label;   /* "14" */
  const char *species; /* "" = unknown */
  const CoreState *state;
  const CoreSexVerdict *verdict;
  const CoreForecast *forecast;
  const CorePlan *plan;
} WordsCup;
char *words_cup (const WordsView *view, const WordsCup *cup);
/* "identity doubtful since 7 Jun"; NULL = no doubt which animal it is. */
char *words_identity (const WordsView *view, const CoreState *state);
char *words_last_meal (const WordsView *view,
                       const CoreState *state); /* "2 house flies, seen eaten Saturday" */

typedef struct
{
  gsize n_cups;
  gsize n_due_food;
  int prey; /* the commonest prey of the feeds due, -1 = mixed or none */
  gsize n_due_mist;          /* spray, dampen the floor */
  gsize n_due_look;          /* look, look for a shed skin */
  gsize due[CORE_N_TASKS];   /* of every other kind; of LOOK what is to be seen to first */
  gsize n_alone;             /* to leave alone */
  CoreDay unseen_since;      /* latest last look of the unseen; CORE_DAY_NONE = never */
  const char *const *unseen; /* labels */
  gsize n_unseen;
} WordsShelf;
/* "9 due for house flies, 4 to spray, 2 to leave alone, not seen since Saturday: 14, 33." */
char *words_shelf (const WordsView *view, const WordsShelf *shelf);

/* --- printed sheets ---------------------------------------------------------- */

typedef enum
{
  WORDS_SHEET_NUMBER,
  WORDS_SHEET_KIND,
  WORDS_SHEET_DUE,
  WORDS_SHEET_TOOK,
  WORDS_SHEET_REFUSED,
  WORDS_SHEET_MOULTED,
  WORDS_SHEET_OTHER,
  WORDS_SHEET_NOTES,
  WORDS_N_SHEET_PARTS
} WordsSheetPart;
const char *words_sheet (WordsLang lang, WordsSheetPart part); /* the head of a column */
char *words_sheet_title (WordsLang lang, const char *place);   /* "Round sheet: Shelf A" */
char *words_sheet_scheme (WordsLang lang, int scheme);         /* a sentence */
char *words_sheet_page (WordsLang lang, guint page, guint of); /* "Page 1 of 2" */
/* Today's tasks of one subject: "2 house flies · spray", "leave alone; free again Sat"; "" nothing. */
char *words_sheet_due (const WordsView *view, const CorePlan *plan);

/* --- proof sheets ------------------------------------------------------------- */

typedef struct
{
  double px_per_mm;
  double share; /* sd, as a share of it */
  double mm;    /* what was measured: the abdomen between the marks; or a length in the picture */
  CoreDay day;  /* of that measure; CORE_DAY_NONE = by a length in the picture */
} WordsProofScale;
const char *words_language_tag (WordsLang lang); /* "en" */
/* "L5 (hatchling = L1)"; `stage` is an index into the stages of the state: -1 is the one before the
 * first that is known, below that nothing is known. */
char *words_proof_stage (
  const WordsView *view, const CoreState *state, int stage, gboolean adult, gboolean shed);
/* With a figure also where it is firm. */
char *words_proof_verdict (const WordsView *view, const CoreSexVerdict *verdict);
typedef struct
{
  int plates;
  gboolean by_keeper;  /* else the finder's, confirmed by nobody */
  int small_plate;     /* CORE_SMALL_*; -1 = not asked */
  gboolean axis_open;  /* base and tip are the program's, and nobody said that they lie right */
  gboolean bands;
} WordsProofLines;
char *words_proof_lines (WordsLang lang, const WordsProofLines *lines);
char *words_proof_scale (const WordsView *view, const WordsProofScale *scale); /* NULL = none is known */
char *words_proof_made (const WordsView *view, CoreDay taken, CoreDay made); /* with the program */
const char *words_proof_check (WordsLang lang);

typedef struct
{
  const char *title;
  const char *body; /* one or more sentences */
} WordsParagraph;

/* --- the sheet of a stand-in ------------------------------------------------- */

typedef enum
{
  WORDS_STANDIN_NUMBER, /* the heads of the columns before the days */
  WORDS_STANDIN_KIND,
  WORDS_STANDIN_FOOD,
  WORDS_STANDIN_REST,
  WORDS_STANDIN_TITLE,
  WORDS_STANDIN_NOTE,
  WORDS_STANDIN_FEED,
  WORDS_STANDIN_FLIES,
  WORDS_STANDIN_FLIES_ALWAYS,
  WORDS_STANDIN_SMALL_PREY,
  WORDS_STANDIN_CULTURE,
  WORDS_STANDIN_EGGCASE,
  WORDS_N_STANDIN_PARTS
} WordsStandinPart;
const char *words_standin (WordsLang lang, WordsStandinPart part);
/* What to do when something can be seen; borrowed until the next call. */
const WordsParagraph *words_standin_conditions (WordsLang lang, gsize *n);
char *words_standin_column (WordsLang lang, CoreDay day); /* head of the column of a day */
char *words_standin_shelf (WordsLang lang, const char *place);
char *words_standin_span (const WordsView *view, CoreDay from, CoreDay to);
char *words_standin_food (WordsLang lang, const CoreStandin *row);
char *words_standin_day (WordsLang lang, const CoreStandin *row, guint day); /* NULL = nothing */
/* Each with a body that the caller frees. */
/* `cultures`: the codes of the jars, or "" */
WordsParagraph words_standin_supplies (WordsLang lang, const guint prey[CORE_N_PREY], guint n_lots, const char *cultures, char **body);
WordsParagraph words_standin_before (WordsLang lang, const char *numbers, char **body);
WordsParagraph words_standin_call (WordsLang lang, const char *whom, char **body); /* NULL: a line to write on */

/* --- refusals and errors ----------------------------------------------------- */

/* What cannot be and what to do; state and entry may be NULL. */
char *words_refusal (const WordsView *view,
                     CoreRefusal refusal,
                     const CoreState *state,
                     const CoreEntry *entry);
/* key may be NULL (unknown key); typed_* as the keeper wrote them, may be NULL. Names the words
 * or the range that would do. */
char *words_value_problem (WordsLang lang,
                           CoreValueStatus status,
                           CoreKind kind,
                           const CoreKindKey *key,
                           const char *typed_key,
                           const char *typed_value);
char *words_conflict (const WordsView *view, const CoreConflict *conflict);
/* `code` is a StoreError; what = folder or file, may be NULL. */
char *words_store_error (WordsLang lang, int code, const char *what);
/* A finding of a check, in the order of StoreProblemKind; `unchecked`: the file is too damaged for
 * it to be looked for. `detail` may be NULL. */
char *words_check_problem (WordsLang lang,
                           int kind,
                           gboolean unchecked,
                           const char *what,
                           const char *detail);
/* In the order of ExchError: files of backups. */
char *words_backup_error (WordsLang lang, int code, const char *what);
/* `code` is an ImgError; file may be NULL. */
char *words_image_error (WordsLang lang, int code, const char *file);

/* What the desk cannot do, and what to do instead; {1} … {4} of the sentence come from args. */
typedef enum
{
  WORDS_DESK_KEY_UNKNOWN,
  WORDS_DESK_KEY_TWICE,
  WORDS_DESK_NO_SPECIES,
  WORDS_DESK_PLACE_NAMELESS,
  WORDS_DESK_FOREIGN_ENTRY,
  WORDS_DESK_BEYOND, /* 1 what is not known of the entry */
  WORDS_DESK_NOTHING_TO_UNDO,
  WORDS_DESK_NOTHING_TO_REDO,
  WORDS_DESK_NO_ENTRY,
  WORDS_DESK_ENTRY_GONE,
  WORDS_DESK_BAD_TIME,
  WORDS_DESK_VOID_NOT_CORRECTED,
  WORDS_DESK_NOT_LOCAL,
  WORDS_DESK_CLOSED,
  WORDS_DESK_SEVERAL_CALLED,
  WORDS_DESK_NONE_CALLED,
  WORDS_DESK_SPECIES_SEVERAL,
  WORDS_DESK_SPECIES_NONE,
  WORDS_DESK_PHOTO_NEEDS_FILE,
  WORDS_DESK_NO_KIND,
  WORDS_DESK_NO_PAIR,
  WORDS_DESK_BAD_DAY,
  WORDS_DESK_BAD_REAL,
  WORDS_DESK_NO_REST,
  WORDS_DESK_REST_UNKNOWN,
  WORDS_DESK_NUMBER_FORM,
  WORDS_DESK_NUMBER_GIVEN,
  WORDS_DESK_CODE_TAKEN,
  WORDS_DESK_CODE_FORM,
  WORDS_DESK_NOT_A_LOT,
  WORDS_DESK_NOT_A_PLACE,
  WORDS_DESK_WITHIN_ITSELF,
  WORDS_DESK_SETTING_KEY,
  WORDS_DESK_TOO_LONG,
  WORDS_DESK_NO_PHOTO,
  WORDS_DESK_PHOTO_ID,
  WORDS_DESK_NO_SUBJECT,
  WORDS_DESK_READ_ONLY,
  WORDS_DESK_BENCH_WHAT,
  WORDS_DESK_AXIS_BAD,
  WORDS_DESK_AXIS_OUTSIDE,
  WORDS_DESK_AXIS_SHORT,
  WORDS_DESK_AXIS_CROSSED,
  WORDS_DESK_STOPPED,
  WORDS_DESK_PHOTO_OF_OTHER,
  WORDS_DESK_PHOTO_DETACHED,
  WORDS_DESK_BOUNDS_BAD,
  WORDS_DESK_NO_CUE,
  WORDS_DESK_NO_APPENDAGES,
  WORDS_DESK_SETTING_UNKNOWN,
  WORDS_DESK_SETTING_WORD,
  WORDS_DESK_INTERVAL,
  WORDS_DESK_PROFILE_VALUE,    /* keys, reason */
  WORDS_DESK_PROFILE_NO_VALUE, /* what was given */
  WORDS_DESK_PROFILE_TOO_LONG, /* part */
  WORDS_DESK_PROFILE_TAKEN,    /* species */
  WORDS_DESK_PROFILE_GENERAL,
  WORDS_DESK_NO_TASK,
  WORDS_DESK_BEFORE_ELSEWHERE, /* 1 the cup, 2 where it stands, 3 the shelf meant */
  WORDS_DESK_BEFORE_NOWHERE,   /* 1 the cup, 2 the shelf meant */
  WORDS_DESK_BEFORE_ITSELF,
  WORDS_DESK_ONLY_NAME, /* 1 the key: number, code or name */
  WORDS_DESK_INSIDE_JOURNAL,
  WORDS_DESK_BACKUP_PHOTO,
  WORDS_DESK_BACKUP_BUSY,
  WORDS_DESK_NOT_AN_ANIMAL,
  WORDS_DESK_NOT_AN_EGGCASE,
  WORDS_DESK_OWN_ANCESTOR,
  WORDS_DESK_MOTHER_MALE,
  WORDS_DESK_FATHER_FEMALE,
  WORDS_DESK_BOTH_PARENTS,
  WORDS_DESK_PARENT_KIND,
  WORDS_DESK_MOTHER_NYMPH,
  WORDS_DESK_CODE_GIVEN,
  WORDS_DESK_CODE_NUMBER,
  WORDS_DESK_CODE_WORD,
  WORDS_DESK_LOT_UNCOUNTED,
  WORDS_DESK_LOT_NONE,
  WORDS_DESK_LOT_MOST,
  WORDS_DESK_LOT_MOULTED,
  WORDS_DESK_LOT_NEGATIVE,
  WORDS_DESK_LOT_ELSEWHERE,
  WORDS_DESK_LOT_ONE_SIDE,
  WORDS_DESK_JOIN_ITSELF,
  WORDS_DESK_JOIN_SPECIES,
  WORDS_DESK_JOIN_STAGES,   /* 1 a lot, 2 its stage, 3 the other, 4 its stage */
  WORDS_DESK_LOT_HALF_BACK, /* 1 the lot */
  WORDS_DESK_CULTURE_PREY,
  WORDS_DESK_NOTHING_TO_PRINT,
  WORDS_DESK_STANDIN_DAYS,
  WORDS_DESK_STANDIN_PAST,
  WORDS_DESK_STANDIN_LONG,
  WORDS_DESK_WHAT_IF_ANIMAL,
  WORDS_DESK_WHAT_IF_WARMTH,
  WORDS_DESK_WHAT_IF_DAYS,
  WORDS_DESK_WHAT_IF_PLACE,
  WORDS_DESK_SWAP_NOWHERE, /* 1 the cup */
  WORDS_DESK_SWAP_ITSELF,
  WORDS_DESK_MIXED_NOT_HERE, /* 1 the cup, 2 since when it is here */
  WORDS_DESK_MIXED_GONE,     /* 1 the cup, 2 the day of its end */
  WORDS_DESK_MIXED_CANNOT,   /* 1 the cup, 2 what would be wrong with it */
  WORDS_DESK_MIXED_NOT_CORRECTED,
  WORDS_DESK_MERGE_ITSELF,
  WORDS_DESK_MERGE_FILE,
  WORDS_DESK_MERGE_NONE,
  WORDS_DESK_MERGE_STRANGER, /* 1 what is in it */
  WORDS_DESK_PROOF_NO_MARKS,
  WORDS_DESK_BAD_DAYS,
  WORDS_DESK_LOT_COUNTED_BEFORE,
  WORDS_DESK_ENTRY_CORRECTED, /* 1 id */
  WORDS_DESK_MIXED_NOTHING,   /* 1 day */
  WORDS_DESK_WRITTEN_DAMAGED,
  WORDS_DESK_WRITTEN_UNREAD,
  WORDS_N_DESK
} WordsDeskProblem;
/* `args`: NULL-ended, may be NULL; a missing one stays empty. */
char *words_desk_problem (WordsLang lang, WordsDeskProblem problem, const char *const *args);
/* How many entries a damaged journal lost, as a part of a sentence. */
char *words_salvage_lost (WordsLang lang, gsize lost, gboolean end_missing);

/* --- the round line ---------------------------------------------------------- */

/* Vocabulary: always English, and the current language under WORDS_LOCAL. Folded to lower
 * case. Static: valid until the end of the program, made once per language. */
const CoreRoundTerm *words_round_terms (WordsLang lang, gsize *n);
/* "“hosue”: expected what was done, such as fed, misted, looked." */
char *words_round_problem (WordsLang lang, const CoreRoundProblem *problem, const char *line);
/* "Fed 2 house flies: 23 cups": one line per action for all; n_cups 0: without their number. */
char *words_round_action (WordsLang lang, const CoreRoundAction *action, gsize n_cups);
/* "refused", "moulted and fell, on Sat 13 June": of one cup, without its number. */
char *words_round_outcome (const WordsView *view, CoreDay day, const CoreRoundException *exception);
/* The line as a keeper would type it, in full words that are read as they were meant. `typed`: the
 * text that it was read from, for the words of its opening; weekday of the round, 0 = Monday. */
char *
words_round_line (WordsLang lang, const CoreRoundLine *line, const char *typed, int weekday);
char *words_round_exception (WordsLang lang,
                             const CoreRoundException *exception); /* "14: refused" */
/* number NULL: without it. other: the cup that it changes places with; day: of the round. */
char *words_round_write (const WordsView *view,
                         const char *number,
                         const char *other,
                         CoreDay day,
                         const CoreRoundWrite *write);
/* "3, 14, 22–25": three or more that stand side by side in `all` are said as a range. */
char *words_round_numbers (WordsLang lang,
                           const char *const *numbers,
                           gsize n,
                           const char *const *all,
                           gsize n_all);
/* "14, 31 leave alone", "22–25 too small for house flies". */
char *
words_round_left_out_part (WordsLang lang, CoreLeftOutWhy why, int prey, const char *numbers);
/* "Left out: 14 leave alone; 22–25 too small for house flies." */
char *words_round_left_out (WordsLang lang, const char *parts);
/* "Due among them: 22–25." */
char *words_round_left_out_due (WordsLang lang, const char *numbers);
char *words_round_wrote (WordsLang lang, gsize n_entries); /* "12 entries written." */

/* --- photos ------------------------------------------------------------------ */

/* Why a picture cannot carry a count. */
typedef enum
{
  WORDS_UNUSABLE_SHORT, /* the abdomen is too small in the picture */
  WORDS_UNUSABLE_BLUR,
  WORDS_UNUSABLE_GLARE,
  WORDS_UNUSABLE_CONTRAST,
  WORDS_UNUSABLE_WEAK,      /* no plates stand out */
  WORDS_UNUSABLE_NO_ANIMAL, /* most likely no abdomen along these marks */
  WORDS_UNUSABLE_BACK,      /* the back: ten rings in both sexes */
  WORDS_UNUSABLE_FLANK,
  WORDS_UNUSABLE_AXIS, /* the marks lie outside or too close */
  WORDS_UNUSABLE_CROSSED,
  WORDS_N_UNUSABLE
} WordsUnusable;
/* What is wrong, and how to retake it: two sentences. */
char *words_unusable (WordsLang lang, WordsUnusable why);
const char *words_photo_undated (WordsLang lang);
/* That the camera's clock was wrong: one sentence with its day; NULL where it can be. */
char *words_photo_wrong_day (const WordsView *view, CoreWrongDay why, CoreDay day);
char *words_photo_clock_wrong (const WordsView *view, CoreWrongDay why, CoreDay day); /* and what becomes of it */
/* What a picture shows, as far as anybody has said. */
typedef struct
{
  int moults;          /* since the hatch, at the stage shown; -1 = unknown */
  gboolean about;      /* the number is not counted from the hatch */
  gboolean adult, subadult;
  int of, side;        /* CORE_OF_*, CORE_SIDE_*; -1 = nobody has said */
} WordsShown;
/* "L4", "about L4", "sub-adult", "adult", "stage unknown". */
char *words_shown_stage (const WordsView *view, const WordsShown *shown);
/* "underside", "shed skin, underside", "side view", "nobody has said what it shows". */
char *words_shown_kind (WordsLang lang, const WordsShown *shown);
const char *words_how_to_photograph (WordsLang lang); /* several sentences */
/* "6 plates, 71 in 100; 8 plates, 22 in 100." */
char *words_count (WordsLang lang, int first, double p_first, int second, double p_second);

/* --- emergency and cautions --------------------------------------------------- */

const WordsParagraph *words_emergency (WordsLang lang, gsize *n);

typedef enum
{
  WORDS_CAUTION_HEAT,
  WORDS_CAUTION_ELECTRICITY,
  WORDS_CAUTION_POISON,
  WORDS_CAUTION_CLEANING,
  WORDS_CAUTION_ALLERGY,
  WORDS_CAUTION_FRIDGE,
  WORDS_CAUTION_CHILDREN,
  WORDS_CAUTION_RELEASE,
  WORDS_CAUTION_POST,
  WORDS_CAUTION_CRICKETS,
  WORDS_CAUTION_PHOTO,
  WORDS_N_CAUTIONS
} WordsCaution;
WordsParagraph words_caution (WordsLang lang, WordsCaution caution);
/* The one line for the place where the matter comes up. */
const char *words_caution_line (WordsLang lang, WordsCaution caution);
/* One line each of the bits 1 << WordsCaution; "" for none. */
/* What temperatures past “look at once” do; NULL where they are not. */
char *words_past (const WordsView *view, const CorePast *past);
char *words_caution_lines (WordsLang lang, unsigned which);
/* "allergy": the contract's word, as in the setting caution.allergy. */
const char *words_caution_id (WordsCaution caution);

G_END_DECLS
