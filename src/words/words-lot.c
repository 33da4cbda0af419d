/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-lot.c — lots, egg cases and cultures: their entries, counts and states in words.
 *
 * What is not counted wears "about", in every sentence.
 */
#include <string.h>

#include "words/words-private.h"

typedef struct
{
  const WordsView *view;
  const WordsEntry *what;
  const CoreEntry *e;
  GPtrArray *parts;
} Line;

static void
say (Line *line, char *text)
{
  g_ptr_array_add (line->parts, text);
}

#define LANG(line) ((line)->view->lang)
#define SAY(line, ctx, text) say (line, g_strdup (T_ (LANG (line), ctx, text)))

char *
words_amount (WordsLang lang, gint64 n, gboolean counted)
{
  if (counted)
    return g_strdup_printf ("%" G_GINT64_FORMAT, n);
  /* Translators: a number that was estimated: "about 120" */
  return g_strdup_printf (T_ (lang, "amount", "about %u"), (guint) n);
}

char *
words_count_of (WordsLang lang, const CoreTally *tally)
{
  if (!tally->known)
    return g_strdup (T_ (lang, "amount", "number unknown"));
  return words_amount (lang, tally->count, tally->counted);
}

static guint
number_of (const Line *line)
{
  return (guint) core_entry_num (line->e, CORE_KEY_N, 0);
}

static char *
amount_of (Line *line)
{
  return words_amount (LANG (line), (gint64) core_entry_num (line->e, CORE_KEY_N, 0),
                       core_entry_code (line->e, CORE_KEY_COUNTED, 0) == 0);
}

static const CoreTallyStep *
step_of (const Line *line)
{
  const CoreState *state = line->what->state;

  for (gsize i = 0; state != NULL && i < state->steps.n; i++)
    if (core_id_equal (state->steps.v[i].entry, line->e->id))
      return &state->steps.v[i];
  return NULL;
}

/* None where it was never counted. */
static CoreId
first_count (const CoreState *state)
{
  for (gsize i = 0; i < state->steps.n; i++)
    if (state->steps.v[i].kind == CORE_KIND_RECOUNTED)
      return state->steps.v[i].entry;
  return (CoreId){ { 0 } };
}

/* A difference to what should be there is told beside the number. */
static void
recounted (Line *line)
{
  const CoreTallyStep *step = step_of (line);
  g_autofree char *amount = amount_of (line);
  g_autofree char *other = NULL;

  if (core_entry_code (line->e, CORE_KEY_COUNTED, 0) == 0)
    say (line, g_strdup_printf (T_ (LANG (line), "entry", "%s counted"), amount));
  else
    say (line, g_strdup_printf (T_ (LANG (line), "entry", "%s by estimate"), amount));
  if (step != NULL && line->what->state->tally.began_derived &&
      core_id_equal (first_count (line->what->state), line->e->id))
    SAY (line, "entry", "what there was on this day, not at the beginning");
  if (step == NULL || step->change == 0)
    return;
  other = words_amount (LANG (line), ABS (step->change), !step->about);
  if (step->change < 0)
    say (line, g_strdup_printf (T_ (LANG (line), "entry", "%s lost unseen"), other));
  else
    say (line, g_strdup_printf (T_ (LANG (line), "entry", "%s more than there should be"), other));
}

/* The lot that an entry names, as it is called. */
static const char *
other (const Line *line)
{
  return line->what->place != NULL ? line->what->place : "?";
}

static void
split (Line *line)
{
  guint n = number_of (line);

  if (n == 0)
    say (line,
         g_strdup_printf (T_ (LANG (line), "entry", "all of it went into lot %s"), other (line)));
  else if (core_id_is_none (core_entry_ref (line->e, CORE_KEY_WITH)))
    say (line, g_strdup_printf (TN_ (LANG (line), "entry", "%u into a cup of its own",
                                     "%u into cups of their own", n),
                                n));
  else
    /* Translators: a number of animals, and the code of a lot */
    say (line, g_strdup_printf (T_ (LANG (line), "entry", "%u into lot %s"), n, other (line)));
  if (core_entry_get (line->e, CORE_KEY_MOULTED) != NULL)
    /* Translators: of those that were taken out of a lot, how many had moulted before the others */
    say (line, g_strdup_printf (T_ (LANG (line), "entry", "%u of these had moulted"),
                                (guint) core_entry_num (line->e, CORE_KEY_MOULTED, 0)));
}

static void
joined (Line *line)
{
  g_autofree char *amount = amount_of (line);

  /* Translators: a number of animals, and the code of a lot */
  say (line,
       g_strdup_printf (T_ (LANG (line), "entry", "%s came in from lot %s"), amount, other (line)));
}

/* As said there, else as it stands among hers by now. */
static int
series_of (const Line *line)
{
  const CoreState *state = line->what->state;

  for (gsize i = 0; state != NULL && i < state->layings.n; i++)
    if (core_id_equal (state->layings.v[i].entry, line->e->id))
      return state->layings.v[i].series;
  return (int) core_entry_num (line->e, CORE_KEY_N, 0);
}

static void
laid (Line *line)
{
  int series = series_of (line);
  g_autofree char *day = NULL;

  if (line->what->state != NULL && line->what->state->kind == CORE_SUBJECT_EGGCASE)
    SAY (line, "entry", "laid");
  else if (line->what->place != NULL)
    say (line, g_strdup_printf (T_ (LANG (line), "entry", "laid egg case %s"), line->what->place));
  else
    SAY (line, "entry", "laid an egg case");
  if (series > 0)
    say (line, g_strdup_printf (T_ (LANG (line), "entry", "number %d of hers"), series));
  if (line->e->earliest == CORE_DAY_NONE || line->e->earliest >= line->e->day)
    return;
  day = words_day (line->view, line->e->earliest, WORDS_DAY_NEAR);
  say (line, g_strdup_printf (T_ (LANG (line), "entry", "at the earliest %s"), day));
}

static void
hatching (Line *line)
{
  g_autofree char *amount = amount_of (line);

  if (core_entry_get (line->e, CORE_KEY_N) != NULL)
    say (line, g_strdup_printf (T_ (LANG (line), "entry", "%s hatched"), amount));
  else
    SAY (line, "entry", "young hatched, not counted");
  if (core_entry_code (line->e, CORE_KEY_OVER, 1) == 0)
    SAY (line, "entry", "no more are awaited");
}

static void
dud (Line *line)
{
  const char *cause = core_entry_str (line->e, CORE_KEY_CAUSE);

  SAY (line, "entry", "will not hatch");
  if (*cause != '\0')
    say (line, g_strdup (words_cause (LANG (line), cause)));
  if (core_entry_code (line->e, CORE_KEY_SURE, 0) == 1)
    SAY (line, "entry", "not sure");
}

static void
culture (Line *line)
{
  g_autofree char *prey = words_prey (LANG (line), core_entry_code (line->e, CORE_KEY_PREY, -1), 0);
  const char *text = core_entry_str (line->e, CORE_KEY_TEXT);

  say (line, g_strdup_printf (T_ (LANG (line), "entry", "culture of %s started"), prey));
  if (*text != '\0')
    say (line, g_strdup (text));
}

/* Some of a lot; all of it is said by the kind alone. */
static void
some (Line *line)
{
  guint n = number_of (line);

  if (n == 0)
    return;
  if (line->e->kind == CORE_KIND_ESCAPED)
    say (line,
         g_strdup_printf (TN_ (LANG (line), "entry", "%u escaped", "%u escaped", (gulong) n), n));
  else if (line->e->kind == CORE_KIND_FOUND)
    say (line, g_strdup_printf (
                 TN_ (LANG (line), "entry", "%u found again", "%u found again", (gulong) n), n));
  else
    say (line, g_strdup_printf (
                 TN_ (LANG (line), "entry", "%u came back", "%u came back", (gulong) n), n));
}

typedef void (*Speak) (Line *line);

static const Speak speakers[CORE_N_KINDS] = {
  [CORE_KIND_RECOUNTED] = recounted, [CORE_KIND_SPLIT] = split,  [CORE_KIND_JOINED] = joined,
  [CORE_KIND_LAID] = laid,           [CORE_KIND_DUD] = dud,      [CORE_KIND_HATCHING] = hatching,
  [CORE_KIND_CULTURE] = culture,     [CORE_KIND_ESCAPED] = some, [CORE_KIND_FOUND] = some,
  [CORE_KIND_BACK] = some,
};

void
words_lot_parts (const WordsView *view, const WordsEntry *what, GPtrArray *parts)
{
  Line line = { view, what, what->entry, parts };

  if ((gsize) line.e->kind < CORE_N_KINDS && speakers[line.e->kind] != NULL)
    speakers[line.e->kind](&line);
}

gboolean
words_lot_perhaps (WordsLang lang, const WordsEntry *what, GPtrArray *parts)
{
  guint n = (guint) core_entry_num (what->entry, CORE_KEY_N, 0);

  /* Of an animal only what it has from its lot says a number. */
  if (n == 0 || what->state == NULL || what->state->kind != CORE_SUBJECT_ANIMAL)
    return FALSE;
  g_ptr_array_add (parts, g_strdup_printf (TN_ (lang, "entry", "%u of its lot moulted: perhaps this one",
                                                "%u of its lot moulted: perhaps this one", n),
                                           n));
  return TRUE;
}

gboolean
words_lot_had (const WordsEntry *what)
{
  const CoreState *state = what->state;

  if (state == NULL || state->lot_since == CORE_DAY_NONE)
    return FALSE;
  return (!core_id_is_none (what->entry->subject) && !core_id_equal (what->entry->subject, state->subject)) ||
         (what->entry->bulk && core_id_equal (what->entry->round, state->lot_round));
}

/* ---- forecast ---- */

/* Some have moulted: the days are those of the others. */
static char *
of_the_others (const WordsView *view, const CoreLotForecast *forecast)
{
  CoreLotForecast others = *forecast;
  gboolean range = forecast->moulted_most > forecast->moulted;
  g_autofree char *least = words_amount (view->lang, forecast->moulted, TRUE);
  g_autofree char *most = words_amount (view->lang, forecast->moulted_most, TRUE);
  g_autofree char *moulted = range ? g_strdup_printf ("%s–%s", least, most) : g_strdup (least);
  g_autofree char *others_most = words_amount (view->lang, forecast->n, !forecast->about);
  gint64 others_least = forecast->n - (forecast->moulted_most - forecast->moulted);
  g_autofree char *rest = range ? g_strdup_printf ("%" G_GINT64_FORMAT "–%s", MAX (others_least, 0), others_most)
                                : g_strdup (others_most);
  g_autofree char *when = NULL;

  others.moulted = others.moulted_most = 0;
  when = words_lot_forecast (view, &others);
  /* Translators: 1 and 2 how many, 3 what is said of a lot: "first moults about …, half of it by …" */
  return g_strdup_printf (T_ (view->lang, "forecast", "%1$s moulted already; of the other %2$s: %3$s"), moulted,
                          rest, when);
}

char *
words_lot_forecast (const WordsView *view, const CoreLotForecast *forecast)
{
  g_autofree char *first = NULL;
  g_autofree char *half = NULL;
  g_autofree char *last = NULL;

  if (forecast->still.why != CORE_STILL_NOT)
    return words_standstill (view, &forecast->still);
  if (forecast->why != CORE_NO_FORECAST_NONE)
    return g_strdup (words_no_forecast (view->lang, forecast->why));
  if (MAX (forecast->moulted, forecast->moulted_most) > 0)
    return of_the_others (view, forecast);
  first = words_day_range (view, forecast->first.p10, forecast->first.p90);
  half = words_day_range (view, forecast->median.p10, forecast->median.p90);
  last = words_day_range (view, forecast->last.p10, forecast->last.p90);
  if (forecast->n == 1 && !forecast->about)
    return g_strdup_printf (T_ (view->lang, "forecast", "next moult about %s"), half);
  if (view->today != CORE_DAY_NONE && forecast->first.p90 < view->today)
    /* Translators: two ranges of days */
    return g_strdup_printf (T_ (view->lang, "forecast",
                                "the first have probably moulted; half of it by about %s, the "
                                "last about %s"),
                            half, last);
  /* Translators: three ranges of days */
  return g_strdup_printf (T_ (view->lang, "forecast",
                              "first moults about %s, half of it by about %s, the last about %s"),
                          first, half, last);
}

char *
words_pair (const WordsView *view, const CorePair *pair)
{
  g_autofree char *chance = NULL;

  if (pair->why == CORE_PAIR_NO_MALE)
    return g_strdup (T_ (view->lang, "lot", "This kind breeds without males too: no pair is needed."));
  if (pair->why != CORE_PAIR_KNOWN)
    return NULL;
  if (pair->n < 2)
    return g_strdup (T_ (view->lang, "lot", "One alone is no pair."));
  chance = words_percent (view->lang, pair->chance);
  if (pair->counted)
    /* Translators: a chance, such as "97 in 100" */
    return g_strdup_printf (T_ (view->lang, "lot", "At least one male and one female among them: %s."), chance);
  return g_strdup_printf (
    T_ (view->lang, "lot", "At least one male and one female among them: %s, by an estimate: nobody has counted them."), chance);
}
