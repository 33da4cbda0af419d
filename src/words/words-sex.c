/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-sex.c — the sex with its doubt: signs, verdicts, evidence, what to ask.
 *
 * "Likely" always has its figure beside it where there is room; a piece that
 * says nothing is shown and says why.
 */
#include <math.h>

#include "words/words-private.h"

const char *
words_sex_sign (CoreVerdictWord verdict)
{
  static const char *const table[] = { "?", "♂?", "♀?", "♂", "♀" };

  return (gsize) verdict < G_N_ELEMENTS (table) ? table[verdict] : "?";
}

const char *
words_sex_trade (CoreVerdictWord verdict)
{
  static const char *const table[] = { "0.0.1", "1.0?", "0.1?", "1.0", "0.1" };

  return (gsize) verdict < G_N_ELEMENTS (table) ? table[verdict] : "0.0.1";
}

const char *
words_verdict_id (CoreVerdictWord verdict)
{
  static const char *const table[] = { "undecided", "likely_male", "likely_female", "firm_male",
                                       "firm_female" };

  return (gsize) verdict < G_N_ELEMENTS (table) ? table[verdict] : "undecided";
}

char *
words_sex_counts (int males, int females, int unsexed)
{
  if (unsexed > 0)
    return g_strdup_printf ("%d.%d.%d", males, females, unsexed);
  return g_strdup_printf ("%d.%d", males, females);
}

const char *
words_sex_plain (WordsLang lang, CoreSex sex)
{
  static const WordsTerm table[] = {
    [CORE_SEX_UNKNOWN] = TERM ("sex", "unknown"),
    [CORE_SEX_MALE] = TERM ("sex", "male"),
    [CORE_SEX_FEMALE] = TERM ("sex", "female"),
  };

  return words_term (lang, table, G_N_ELEMENTS (table), (int) sex);
}

/* Without the figure, for sentences that have no room. */
const char *
words_sex_phrase (WordsLang lang, CoreVerdictWord verdict)
{
  static const WordsTerm table[] = {
    [CORE_VERDICT_UNDECIDED] = TERM ("sex", "sex undecided"),
    [CORE_VERDICT_LIKELY_MALE] = TERM ("sex", "likely male"),
    [CORE_VERDICT_LIKELY_FEMALE] = TERM ("sex", "likely female"),
    [CORE_VERDICT_FIRM_MALE] = TERM ("sex", "male"),
    [CORE_VERDICT_FIRM_FEMALE] = TERM ("sex", "female"),
  };

  return words_term (lang, table, G_N_ELEMENTS (table), (int) verdict);
}

static gboolean
is_likely (CoreVerdictWord verdict)
{
  return verdict == CORE_VERDICT_LIKELY_MALE || verdict == CORE_VERDICT_LIKELY_FEMALE;
}

char *
words_sex (WordsLang lang, const CoreSexVerdict *verdict)
{
  const char *phrase = words_sex_phrase (lang, verdict->verdict);
  g_autofree char *chance = NULL;

  if (!is_likely (verdict->verdict))
    return g_strdup (phrase);
  chance = words_percent (lang, MAX (verdict->male, verdict->female));
  /* Translators: "likely female" and "94 in 100" */
  return g_strdup_printf (T_ (lang, "sex", "%s, %s"), phrase, chance);
}

const char *
words_evidence_kind (WordsLang lang, CoreEvidenceKind kind)
{
  static const WordsTerm table[] = {
    [CORE_EVIDENCE_COUNT] = TERM ("evidence", "plates counted"),
    [CORE_EVIDENCE_LAST_PLATE] = TERM ("evidence", "last plate"),
    [CORE_EVIDENCE_WINGS] = TERM ("evidence", "wings against the abdomen"),
    [CORE_EVIDENCE_TEGMEN] = TERM ("evidence", "tegmen against pronotum"),
    [CORE_EVIDENCE_CUE] = TERM ("evidence", "sign of the species"),
    [CORE_EVIDENCE_BUILD] = TERM ("evidence", "build"),
    [CORE_EVIDENCE_DESCENT] = TERM ("evidence", "descent"),
    [CORE_EVIDENCE_CLAIM] = TERM ("evidence", "seller's claim"),
    [CORE_EVIDENCE_LAID] = TERM ("evidence", "laid an egg case"),
    [CORE_EVIDENCE_JOINED] = TERM ("evidence", "seen joined"),
    [CORE_EVIDENCE_UNSAID] = TERM ("evidence", "a sex named without saying how"),
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (table) == CORE_N_EVIDENCE);

  return words_term (lang, table, G_N_ELEMENTS (table), (int) kind);
}

static char *
last_plate_read (WordsLang lang, double seen)
{
  if (seen == CORE_LAST_BOAT)
    return g_strdup (T_ (lang, "evidence", "last plate one large boat"));
  if (seen == CORE_LAST_SMALL)
    return g_strdup (T_ (lang, "evidence", "last plate small among narrow ones"));
  return g_strdup (T_ (lang, "evidence", "last plate unclear"));
}

static char *
wings_read (WordsLang lang, double ratio)
{
  if (isnan (ratio) || ratio == 0)
    return g_strdup (words_evidence_kind (lang, CORE_EVIDENCE_WINGS));
  return g_strdup_printf (T_ (lang, "evidence",
                              "wings reach %d %% of the way to the tip of the "
                              "abdomen"),
                          (int) lround (ratio * 100));
}

/* What was read, as a phrase. */
static char *
evidence_read (WordsLang lang, const CoreEvidence *e)
{
  g_autofree char *number = NULL;

  switch (e->kind)
    {
    case CORE_EVIDENCE_COUNT:
      if (!(e->value >= 1))
        return g_strdup (core_id_is_none (e->photo)
                           ? T_ (lang, "evidence", "read by the plates, without a picture here")
                           : T_ (lang, "evidence", "plates in the photo, not counted by you"));
      if (e->value2 == CORE_SMALL_COUNTED)
        return g_strdup_printf (TN_ (lang, "evidence", "%d plate with the small one counted",
                                     "%d plates with the small one counted",
                                     (gulong) lround (e->value)),
                                (int) lround (e->value));
      return g_strdup_printf (TN_ (lang, "evidence", "%d plate counted", "%d plates counted",
                                   (gulong) lround (e->value)),
                              (int) lround (e->value));
    case CORE_EVIDENCE_LAST_PLATE:
      return last_plate_read (lang, e->value);
    case CORE_EVIDENCE_WINGS:
      return wings_read (lang, e->value);
    case CORE_EVIDENCE_TEGMEN:
      number = words_number (lang, e->value, 2);
      return g_strdup_printf (T_ (lang, "evidence", "tegmen %s times the pronotum"), number);
    case CORE_EVIDENCE_CUE:
      return g_strdup (e->cue[0] != '\0' ? words_cue (lang, e->cue)
                                         : words_evidence_kind (lang, e->kind));
    case CORE_EVIDENCE_DESCENT:
      return g_strdup (T_ (lang, "evidence", "said to be of an unmated mother"));
    default:
      return g_strdup (words_evidence_kind (lang, e->kind));
    }
}

/* "16 to 1 for female", "settles it: female", "says nothing". */
static char *
weight_said (WordsLang lang, double log_odds)
{
  const char *sex = words_sex_plain (lang, log_odds > 0 ? CORE_SEX_MALE : CORE_SEX_FEMALE);
  double odds = exp (fabs (log_odds));
  g_autofree char *number = NULL;

  if (!(odds >= 1.05))
    return g_strdup (T_ (lang, "weight", "says nothing either way"));
  if (odds > 5000)
    return g_strdup_printf (T_ (lang, "weight", "settles it: %s"), sex);
  number = words_number (lang, odds < 10 ? round (odds * 10) / 10 : round (odds), 1);
  return g_strdup_printf (T_ (lang, "weight", "%s to 1 for %s"), number, sex);
}

static const char *
weight_note (WordsLang lang, const CoreEvidence *evidence)
{
  static const WordsTerm table[] = {
    [CORE_WEIGHT_FULL] = { NULL, NULL },
    [CORE_WEIGHT_TOO_EARLY] = TERM ("weight", "too early: counted as nothing"),
    [CORE_WEIGHT_CAPPED] = TERM ("weight", "one photo never gives more than 32 to 1"),
    [CORE_WEIGHT_HALVED] = TERM ("weight", "counted half, beside a sharper or later reading"),
    [CORE_WEIGHT_SAME_KIND] = TERM ("weight", "shares its weight with readings of this stage"),
    [CORE_WEIGHT_UNCLEAR] = TERM ("weight", "unclear in the photo"),
    [CORE_WEIGHT_SPANS] = TERM ("weight", "too close to the limit to tell"),
    [CORE_WEIGHT_WRONG_SIDE] = TERM ("weight", "not the underside: the back shows ten rings in both sexes"),
    [CORE_WEIGHT_UNCONFIRMED] = TERM ("weight", "the program's proposal, not yet confirmed"),
    [CORE_WEIGHT_NOT_THIS_KIND] =
      TERM ("weight", "only daughters come of an unmated mother, and only in some kinds"),
    [CORE_WEIGHT_NO_METHOD] = TERM ("weight", "say how it was read, and it counts"),
    [CORE_WEIGHT_OF_OTHER] =
      TERM ("weight", "not counted: it may have been another animal; look again"),
    [CORE_WEIGHT_MARKS_OPEN] =
      TERM ("weight", "less, as nobody said that base and tip lie right"),
    [CORE_WEIGHT_ODD_COUNT] =
      TERM ("weight", "half, as no mantis shows so many or so few: base or tip may lie wrong"),
  };
  CoreWeightNote note = evidence->note;

  if (note == CORE_WEIGHT_FULL)
    return NULL;
  if (note == CORE_WEIGHT_UNCLEAR && core_id_is_none (evidence->photo))
    return T_ (lang, "weight", "not clear");
  if (note == CORE_WEIGHT_NOT_THIS_KIND && evidence->kind == CORE_EVIDENCE_CUE)
    return T_ (lang, "weight", "not known as a sign of the sex in this kind");
  if (note == CORE_WEIGHT_NOT_THIS_KIND && evidence->kind == CORE_EVIDENCE_COUNT)
    return T_ (lang, "weight", "belly appendages are counted only in empusids");
  if (note == CORE_WEIGHT_SAME_KIND && evidence->counted == 0 && evidence->log_odds != 0)
    return T_ (lang, "weight", "not counted: another reading of this kind stands for it");
  return words_term (lang, table, G_N_ELEMENTS (table), (int) note);
}

/* What its note makes of it; NAN: the note names no figure. */
static double
by_note (const CoreEvidence *evidence)
{
  double odds = fabs (evidence->log_odds);

  switch (evidence->note)
    {
    case CORE_WEIGHT_FULL:
    case CORE_WEIGHT_UNCONFIRMED:
    case CORE_WEIGHT_MARKS_OPEN:
    case CORE_WEIGHT_ODD_COUNT:
      return odds;
    case CORE_WEIGHT_CAPPED:
      return MIN (odds, log (32));
    case CORE_WEIGHT_HALVED:
      return odds / 2;
    default:
      return NAN;
    }
}

/* A piece may be lessened for several reasons, and has room for one: what enters in the end is said. */
static char *
with_counted (WordsLang lang, const CoreEvidence *evidence, char *text)
{
  g_autofree char *bare = text, *counted = NULL;

  if (!(exp (fabs (evidence->counted)) >= 1.05) || fabs (by_note (evidence) - fabs (evidence->counted)) < .05)
    return g_steal_pointer (&bare);
  counted = weight_said (lang, evidence->counted);
  /* Translators: a piece of evidence; its weight beside the others: "5.7 to 1 for male" */
  return g_strdup_printf (T_ (lang, "evidence", "%s; beside the others it counts %s"), bare, counted);
}

char *
words_evidence (const WordsView *view, const CoreEvidence *evidence)
{
  g_autofree char *read = evidence_read (view->lang, evidence);
  g_autofree char *stage = words_stage_number (evidence->moults, view->scheme);
  g_autofree char *weight = weight_said (view->lang, evidence->log_odds);
  const char *note = weight_note (view->lang, evidence);
  g_autofree char *text = NULL;

  if (evidence->moults >= 0)
    /* Translators: what was read, stage, weight: "6 plates counted at L5: 16 to 1 for female" */
    text = g_strdup_printf (T_ (view->lang, "evidence", "%s at %s: %s"), read, stage, weight);
  else
    text = g_strdup_printf (T_ (view->lang, "evidence", "%s: %s"), read, weight);
  if (note != NULL)
    {
      g_autofree char *bare = g_steal_pointer (&text);

      /* Translators: a piece of evidence, and a remark on its weight */
      text = g_strdup_printf (T_ (view->lang, "evidence", "%s; %s"), bare, note);
    }
  text = with_counted (view->lang, evidence, g_steal_pointer (&text));
  return words_sentence (g_steal_pointer (&text));
}

typedef struct
{
  unsigned bit;
  const char *id;
  WordsTerm term;
} Ask;

static const Ask asks[] = {
  { CORE_ASK_LOOK_AGAIN, "look_again",
    TERM ("ask", "Look again: what was read may have been read of another animal.") },
  { CORE_ASK_STAGE, "stage",
    TERM ("ask", "Say which stage it is: before the plates can be read a count says nothing.") },
  { CORE_ASK_CONFIRM, "confirm",
    TERM ("ask", "Go through the proposed plates and confirm or correct them.") },
  { CORE_ASK_MARKS, "marks",
    TERM ("ask", "Look at base and tip again: just behind the hind legs, and before the two cerci. Then say that "
                 "they lie right.") },
  { CORE_ASK_SMALL_PLATE, "small_plate",
    TERM ("ask", "Say whether the small plate at the hind legs was counted.") },
  { CORE_ASK_CONVENTION, "convention",
    TERM ("ask", "Say what was counted: belly plates, or belly appendages.") },
  { CORE_ASK_LAST_PLATE, "last_plate",
    TERM ("ask", "Look at the last plate: one large boat, or small among narrow ones?") },
  { CORE_ASK_ANTENNAE, "antennae",
    TERM ("ask", "Look at the antennae: feathered in adult males, thread-like in females.") },
  { CORE_ASK_WINGS, "wings",
    TERM ("ask", "Mark the wings and the tip of the abdomen in a photo.") },
  { CORE_ASK_SECOND_KIND, "second_kind",
    TERM ("ask", "A second kind of evidence from another photo would make it firm.") },
  { CORE_ASK_NEXT_STAGE, "next_stage", TERM ("ask", "Look again after the next moult.") },
};

const char *
words_ask_id (unsigned bit)
{
  for (gsize i = 0; i < G_N_ELEMENTS (asks); i++)
    {
      if (asks[i].bit == bit)
        return asks[i].id;
    }
  return NULL;
}

GStrv
words_asks (const WordsView *view, unsigned ask)
{
  g_autoptr (GPtrArray) sentences = g_ptr_array_new ();

  for (gsize i = 0; i < G_N_ELEMENTS (asks); i++)
    {
      if ((ask & asks[i].bit) != 0)
        g_ptr_array_add (sentences,
                         g_strdup (T_ (view->lang, asks[i].term.context, asks[i].term.text)));
    }
  g_ptr_array_add (sentences, NULL);
  return (GStrv) g_ptr_array_free (g_steal_pointer (&sentences), FALSE);
}

char *
words_too_early (const WordsView *view, const CoreForecast *forecast)
{
  g_autofree char *range = NULL;

  if (forecast == NULL || !words_forecast_has_days (forecast))
    return g_strdup (T_ (view->lang, "sex",
                         "Too early to tell: at this stage females of some kinds show eight "
                         "plates too. Look again after the next moult."));
  range = words_forecast_range (view, forecast);
  return g_strdup_printf (T_ (view->lang, "sex",
                              "Too early to tell: at this stage females of some kinds show eight "
                              "plates too. Look again after the next moult, about %s."),
                          range);
}

char *
words_verdict (const WordsView *view, const CoreSexVerdict *verdict, const CoreForecast *forecast)
{
  g_autofree char *sex = NULL;
  g_autofree char *male = NULL;
  g_autofree char *female = NULL;
  g_autofree char *said = NULL;

  if (verdict->too_early)
    return words_too_early (view, forecast);
  if (verdict->verdict == CORE_VERDICT_UNDECIDED)
    {
      male = words_percent (view->lang, verdict->male);
      female = words_percent (view->lang, verdict->female);
      /* Translators: two chances: "male 62 in 100, female 38 in 100" */
      said =
        g_strdup_printf (T_ (view->lang, "sex", "Undecided: male %s, female %s."), male, female);
    }
  else
    {
      sex = words_sex (view->lang, verdict);
      said = words_sentence (g_steal_pointer (&sex));
    }
  if (!verdict->conflict)
    return g_steal_pointer (&said);
  return g_strconcat (said, " ", T_ (view->lang, "sex", "The evidence points both ways."), NULL);
}
