/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-entry.c — one entry as one line of a timeline.
 *
 * Parts are put side by side with "; ", so that no language has to bend them.
 * The day is not said: the timeline stands beside its days.
 */
#include <math.h>
#include <string.h>

#include "core/core-series.h"
#include "words/words-private.h"

typedef struct
{
  const WordsView *view;
  const WordsEntry *what;
  const CoreEntry *e;
  GPtrArray *parts;
} Line;

static void
add (Line *line, char *text)
{
  if (text != NULL && *text != '\0')
    g_ptr_array_add (line->parts, text);
  else
    g_free (text);
}

static void
say (Line *line, const char *text)
{
  add (line, g_strdup (text));
}

#define SAY(line, ctx, text) say (line, T_ ((line)->view->lang, ctx, text))

static int
code (Line *line, CoreKey key)
{
  return core_entry_code (line->e, key, -1);
}

static void
acquired (Line *line)
{
  const char *stage = core_entry_str (line->e, CORE_KEY_STAGE);
  const char *from = core_entry_str (line->e, CORE_KEY_FROM);
  int scheme = (int) core_entry_num (line->e, CORE_KEY_SCHEME, 0);

  if (core_entry_code (line->e, CORE_KEY_KNOWN, 0) != 0)
    SAY (line, "entry", "seen for the first time; when it came is not known");
  else if (core_entry_code (line->e, CORE_KEY_MOVED_IN, 1) == 0)
    SAY (line, "entry", "moved in, kept here before");
  else if (*from != '\0')
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "came from %s"), from));
  else
    SAY (line, "entry", "came");
  if (*stage == '\0')
    return;
  if (strpbrk (stage, "0123456789") == NULL) /* "adult" is the same by every count */
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "said to be %s"), stage));
  else if (scheme == 1 || scheme == 2)
    {
      g_autofree char *said = words_scheme (line->view->lang, scheme);

      /* Translators: stage in the seller's words, and scheme: "sold as L4 (hatchling = L1)" */
      add (line,
           g_strdup_printf (T_ (line->view->lang, "entry", "said to be %s (%s)"), stage, said));
    }
  else
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "said to be %s, scheme not known"),
                                stage));
}

static void
fed (Line *line)
{
  g_autofree char *prey = words_prey (line->view->lang, code (line, CORE_KEY_PREY),
                                      (int) core_entry_num (line->e, CORE_KEY_N, 0));
  const char *batch = core_entry_str (line->e, CORE_KEY_BATCH);

  /* Translators: prey and what became of it: "2 house flies: put in" */
  add (line, g_strdup_printf (T_ (line->view->lang, "entry", "%s: %s"), prey,
                              words_fed_outcome (line->view->lang,
                                                 core_entry_code (line->e, CORE_KEY_OUTCOME,
                                                                  CORE_FED_OFFERED))));
  if (*batch != '\0')
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "batch %s"), batch));
}

static void
moult_head (Line *line)
{
  switch (code (line, CORE_KEY_OUTCOME))
    {
    case CORE_MOULT_GOOD:
      SAY (line, "entry", "moulted well");
      break;
    case CORE_MOULT_FELL:
      SAY (line, "entry", "moulted and fell");
      break;
    case CORE_MOULT_STUCK:
      SAY (line, "entry", "moulted and got stuck");
      break;
    case CORE_MOULT_LIMB:
      SAY (line, "entry", "moulted, a limb bent or lost");
      break;
    default:
      SAY (line, "entry", "moulted");
      break;
    }
}

/* The stage that this entry began, by the state; NULL when it has none. */
static const CoreStage *
stage_of (const Line *line, int *index)
{
  const CoreState *state = line->what->state;

  for (gsize i = 0; state != NULL && i < state->stages.n; i++)
    {
      if (core_id_equal (state->stages.v[i].entry, line->e->id))
        {
          *index = (int) i;
          return &state->stages.v[i];
        }
    }
  return NULL;
}

static void
moulted_to (Line *line, int index, gboolean known)
{
  int to = code (line, CORE_KEY_TO); /* nymph, subadult, adult */
  int moults = known ? core_state_moults_at (line->what->state, index) : -1;
  g_autofree char *number = NULL;

  if (to == 2)
    SAY (line, "entry", "now adult");
  else if (to == 1)
    SAY (line, "entry", "now sub-adult");
  else if (moults >= 0)
    {
      number = words_stage_number (moults, line->view->scheme);
      if (line->what->state->basis == CORE_BASIS_COUNTED)
        add (line, g_strdup_printf (T_ (line->view->lang, "entry", "now %s"), number));
      else
        add (line, g_strdup_printf (T_ (line->view->lang, "entry", "now about %s"), number));
    }
}

/* A window can also begin with the hatch or the moult before: that is no look at this skin. */
static gboolean
looked_on (const CoreState *state, CoreDay day)
{
  for (gsize i = 0; i < state->looks.n; i++)
    {
      if (state->looks.v[i].day == day)
        return TRUE;
    }
  return FALSE;
}

static void
moulted (Line *line)
{
  int index = -1;
  const CoreStage *stage = stage_of (line, &index);
  guint some = (guint) core_entry_num (line->e, CORE_KEY_N, 0);
  g_autofree char *day = NULL;

  if ((stage == NULL || stage->start != CORE_START_MOULTED) &&
      words_lot_perhaps (line->view->lang, line->what, line->parts))
    return;
  moult_head (line);
  if (some > 0 && (line->what->state == NULL || line->what->state->kind != CORE_SUBJECT_ANIMAL))
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "%u of them"), some));
  moulted_to (line, index, stage != NULL);
  if (code (line, CORE_KEY_SURE) == 0)
    SAY (line, "entry", "surely, though so soon");
  if (code (line, CORE_KEY_SEEN) == 0)
    {
      SAY (line, "entry", "seen happening");
      return;
    }
  if (line->e->earliest != CORE_DAY_NONE)
    {
      day = words_day (line->view, line->e->earliest, WORDS_DAY_NEAR);
      if (line->e->earliest < line->e->day)
        add (line, g_strdup_printf (T_ (line->view->lang, "entry", "at the earliest %s"), day));
    }
  else if (stage != NULL && isfinite (stage->lo) && stage->lo < line->e->day - 1 &&
           looked_on (line->what->state, (CoreDay) floor (stage->lo)))
    {
      day = words_day (line->view, (CoreDay) floor (stage->lo), WORDS_DAY_NEAR);
      add (line,
           g_strdup_printf (T_ (line->view->lang, "entry", "last seen in the old skin %s"), day));
    }
}

static void
seen_stage (Line *line)
{
  static const WordsTerm table[] = {
    TERM ("entry", "seen to be a nymph"),
    TERM ("entry", "seen to be sub-adult, wing pads large"),
    TERM ("entry", "seen to be adult, wings full"),
  };
  double moults = core_entry_num (line->e, CORE_KEY_MOULTS, -1);
  g_autofree char *number = words_stage_number ((int) moults, line->view->scheme);

  say (line,
       words_term (line->view->lang, table, G_N_ELEMENTS (table), code (line, CORE_KEY_SEEN)));
  add (line, g_steal_pointer (&number));
}

static void
sign (Line *line)
{
  add (line, g_strdup_printf (T_ (line->view->lang, "entry", "moult sign: %s"),
                              words_sign (line->view->lang, code (line, CORE_KEY_SIGN))));
}

static void
belly (Line *line)
{
  int score = (int) core_entry_num (line->e, CORE_KEY_SCORE, 0);

  add (line, g_strdup_printf (T_ (line->view->lang, "entry", "belly %d of 5, %s"), score,
                              words_belly (line->view->lang, score)));
}

static void
measured (Line *line)
{
  double sd = core_entry_num (line->e, CORE_KEY_SD, NAN);
  g_autofree char *mm =
    words_number (line->view->lang, core_entry_num (line->e, CORE_KEY_MM, NAN), 1);
  g_autofree char *give = words_number (line->view->lang, sd, 1);
  const char *what = words_dimension (line->view->lang, code (line, CORE_KEY_WHAT));

  if (isnan (sd))
    /* Translators: "body 42 mm" */
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "%s %s mm"), what, mm));
  else
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "%s %s ± %s mm"), what, mm, give));
}

static void
photo (Line *line)
{
  double taken = core_entry_num (line->e, CORE_KEY_TAKEN, NAN);
  g_autofree char *day = NULL;

  SAY (line, "entry", "photo");
  if (isnan (taken) || (CoreDay) taken == line->e->day)
    return;
  day = words_day (line->view, (CoreDay) taken, WORDS_DAY_SHORT);
  add (line, g_strdup_printf (T_ (line->view->lang, "entry", "taken %s"), day));
}

static void
marked (Line *line)
{
  int count = (int) core_entry_num (line->e, CORE_KEY_COUNT, 0);
  double ratio = core_entry_num (line->e, CORE_KEY_WING_RATIO, NAN);
  g_autofree char *number = words_number (line->view->lang, ratio, 2);

  if (count > 0 && code (line, CORE_KEY_BY) != CORE_BY_PROGRAM)
    add (line, g_strdup_printf (TN_ (line->view->lang, "entry", "%d plate counted in the photo",
                                     "%d plates counted in the photo", (gulong) count),
                                count));
  else if (count > 0)
    add (line, g_strdup_printf (
                 TN_ (line->view->lang, "entry", "%d plate proposed by the program, not confirmed",
                      "%d plates proposed by the program, not confirmed", (gulong) count),
                 count));
  else
    SAY (line, "entry", "photo marked");
  if (code (line, CORE_KEY_OF) == CORE_OF_SHED)
    SAY (line, "entry", "of the shed skin");
  if (!isnan (ratio))
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "wing %s of the abdomen"), number));
}

static void
sexed (Line *line)
{
  int method = code (line, CORE_KEY_METHOD);
  int sex = code (line, CORE_KEY_SEX); /* male, female, unknown */
  CoreSex said = sex == 0 ? CORE_SEX_MALE : sex == 1 ? CORE_SEX_FEMALE : CORE_SEX_UNKNOWN;

  if (method == CORE_METHOD_CLAIM)
    {
      add (line, g_strdup_printf (T_ (line->view->lang, "entry", "said to be %s"),
                                  words_sex_plain (line->view->lang, said)));
      return;
    }
  add (line, g_strdup_printf (T_ (line->view->lang, "entry", "read as %s"),
                              words_sex_plain (line->view->lang, said)));
  if (method >= 0)
    say (line, words_method (line->view->lang, method));
}

static void
housed (Line *line)
{
  double height = core_entry_num (line->e, CORE_KEY_HEIGHT_MM, NAN);
  g_autofree char *mm = words_number (line->view->lang, height, 0);

  if (line->what->place != NULL)
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "stands on %s"), line->what->place));
  else if (core_entry_get (line->e, CORE_KEY_PLACE) != NULL || isnan (height))
    SAY (line, "entry", "moved to another place");
  if (!isnan (height))
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "home %s mm high"), mm));
}

static void
trouble (Line *line)
{
  add (line, g_strdup_printf (T_ (line->view->lang, "entry", "trouble: %s"),
                              words_trouble (line->view->lang, code (line, CORE_KEY_WHAT))));
  if (code (line, CORE_KEY_SURE) == 1)
    SAY (line, "entry", "not sure");
}

static void
died (Line *line)
{
  const char *cause = core_entry_str (line->e, CORE_KEY_CAUSE);
  int n = (int) core_entry_num (line->e, CORE_KEY_N, 0);

  if (line->what->state != NULL && line->what->state->kind == CORE_SUBJECT_CULTURE)
    SAY (line, "entry", "used up");
  else if (n > 0)
    add (line,
         g_strdup_printf (TN_ (line->view->lang, "entry", "%d died", "%d died", (gulong) n), n));
  else
    SAY (line, "entry", "died");
  if (cause[0] != '\0')
    say (line, words_cause (line->view->lang, cause));
  if (code (line, CORE_KEY_SURE) == 1)
    SAY (line, "entry", "cause not sure");
}

/* Some of a lot. */
static char *
left_some (const Line *line, int how, int n)
{
  WordsLang lang = line->view->lang;

  switch (how)
    {
    case 0:
      return g_strdup_printf (TN_ (lang, "entry", "%d sold", "%d sold", (gulong) n), n);
    case 1:
      return g_strdup_printf (TN_ (lang, "entry", "%d given away", "%d given away", (gulong) n), n);
    case 2:
      return g_strdup_printf (TN_ (lang, "entry", "%d swapped", "%d swapped", (gulong) n), n);
    case 3:
      return g_strdup_printf (TN_ (lang, "entry", "%d lent out", "%d lent out", (gulong) n), n);
    default:
      return g_strdup_printf (TN_ (lang, "entry", "%d left", "%d left", (gulong) n), n);
    }
}

static void
left (Line *line)
{
  static const WordsTerm ways[] = { TERM ("entry", "sold"), TERM ("entry", "given away"),
                                    TERM ("entry", "swapped"), TERM ("entry", "lent out") };
  const char *to = core_entry_str (line->e, CORE_KEY_TO);
  int how = code (line, CORE_KEY_HOW);
  int n = (int) core_entry_num (line->e, CORE_KEY_N, 0);

  if (n > 0)
    add (line, left_some (line, how, n));
  else if (how >= 0)
    say (line, words_term (line->view->lang, ways, G_N_ELEMENTS (ways), how));
  else
    SAY (line, "entry", "left");
  if (*to != '\0')
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "to %s"), to));
}

/* The rule of a done-mark is a task's word, where it is one. */
static const char *
rule_said (Line *line)
{
  const char *rule = core_entry_str (line->e, CORE_KEY_RULE);

  for (int kind = 0; kind < CORE_N_TASKS; kind++)
    {
      if (strcmp (core_task_name ((CoreTaskKind) kind), rule) == 0)
        return words_task_kind (line->view->lang, (CoreTaskKind) kind);
    }
  return rule;
}

static void
done (Line *line)
{
  add (line, g_strdup_printf (T_ (line->view->lang, "entry", "done: %s"), rule_said (line)));
}

static void
put_off (Line *line)
{
  double until = core_entry_num (line->e, CORE_KEY_UNTIL, NAN);
  CoreDay last = isnan (until) ? CORE_DAY_NONE : (CoreDay) until;
  /* A weekday of the week past would be read as the next one. */
  g_autofree char *day =
    words_day (line->view, last, last > line->view->today ? WORDS_DAY_NEAR : WORDS_DAY_SHORT);

  add (line, g_strdup_printf (T_ (line->view->lang, "entry", "put off until %s: %s"), day,
                              rule_said (line)));
}

static void
set (Line *line)
{
  const char *key = core_entry_str (line->e, CORE_KEY_KEY);
  const char *value = core_entry_str (line->e, CORE_KEY_VALUE);
  g_autofree char *detail = NULL;
  g_autofree char *said = NULL;

  if (strcmp (key, "species") == 0 && (*value == '\0' || strcmp (value, "unknown") == 0))
    {
      SAY (line, "entry", "species unknown");
      return;
    }
  if (line->what->place != NULL)
    value = line->what->place;
  detail = words_setting (line->view->lang, key);
  said = words_setting_value (line->view, key, value);
  /* Translators: a detail and its value: "name: Ida" */
  add (line, g_strdup_printf (T_ (line->view->lang, "entry", "%s: %s"), detail, said));
}

static void
reading (Line *line)
{
  g_autofree char *t =
    words_number (line->view->lang, core_entry_num (line->e, CORE_KEY_T, NAN), 1);
  double rh = core_entry_num (line->e, CORE_KEY_RH, NAN);
  g_autofree char *humidity = words_number (line->view->lang, rh, 0);

  if (core_entry_get (line->e, CORE_KEY_T) != NULL)
    add (line, g_strdup_printf (T_ (line->view->lang, "quantity", "%s °C"), t));
  if (!isnan (rh))
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "humidity %s %%"), humidity));
  if (code (line, CORE_KEY_INSIDE) == 0)
    SAY (line, "entry", "inside a home");
}

/* From the lowest to the highest of what a logger read in a stretch of a day. */
static void
say_logged_range (Line *line, double lo, double hi, gboolean humidity)
{
  g_autofree char *from = words_number (line->view->lang, lo, humidity ? 0 : 1);
  g_autofree char *to = words_number (line->view->lang, hi, humidity ? 0 : 1);

  if (isnan (lo))
    return;
  if (humidity)
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "humidity %s to %s %%"), from, to));
  else
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "%s to %s °C"), from, to));
}

static void
logged (Line *line)
{
  CoreSeriesReader reader = core_series_read (core_entry_str (line->e, CORE_KEY_SERIES));
  double t_lo = NAN, t_hi = NAN, rh_lo = NAN, rh_hi = NAN;
  CoreSample sample;
  guint n = 0;

  for (; core_series_next (&reader, &sample); n++)
    {
      t_lo = fmin (t_lo, sample.t);
      t_hi = fmax (t_hi, sample.t);
      rh_lo = fmin (rh_lo, sample.rh);
      rh_hi = fmax (rh_hi, sample.rh);
    }
  add (line, g_strdup_printf (TN_ (line->view->lang, "entry", "%u reading of a logger",
                                   "%u readings of a logger", n),
                              n));
  say_logged_range (line, t_lo, t_hi, FALSE);
  say_logged_range (line, rh_lo, rh_hi, TRUE);
  if (code (line, CORE_KEY_INSIDE) == 0)
    SAY (line, "entry", "inside a home");
}

static void
power (Line *line)
{
  const char *from = core_entry_str (line->e, CORE_KEY_OUT_FROM);
  const char *to = core_entry_str (line->e, CORE_KEY_OUT_TO);

  SAY (line, "entry", "power cut");
  if (*from != '\0' || *to != '\0')
    /* Translators: beginning and end of a power cut */
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "from %s to %s"),
                                *from != '\0' ? from : "?", *to != '\0' ? to : "?"));
}

static void
drank (Line *line)
{
  if (code (line, CORE_KEY_EAGER) == 0)
    SAY (line, "entry", "drank eagerly");
  else
    SAY (line, "entry", "drank");
}

/* The day since when, where the keeper said it; else that of the entry. */
static char *
since_said (const Line *line)
{
  CoreDay since = line->e->earliest != CORE_DAY_NONE ? line->e->earliest : line->e->day;

  return words_day (line->view, since, WORDS_DAY_SHORT);
}

static void
exchanged (Line *line)
{
  const char *with = line->what->place;
  g_autofree char *since = since_said (line);

  if (with != NULL)
    /* Translators: number of another cup, and a day: "had been mixed up with 15 since 7 Jun" */
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "had been mixed up with %s since %s"),
                                with, since));
  else
    add (line, g_strdup_printf (T_ (line->view->lang, "entry", "had been mixed up since %s"), since));
  SAY (line, "entry", "what was seen since then has changed sides");
}

static void
doubtful (Line *line)
{
  g_autofree char *since = since_said (line);

  if (code (line, CORE_KEY_OVER) == 0)
    SAY (line, "entry", "decided: it is this animal after all");
  else
    add (line, g_strdup_printf (
                 T_ (line->view->lang, "entry", "which animal this is: doubtful since %s"), since));
  say (line, core_entry_str (line->e, CORE_KEY_TEXT));
}

static void
note (Line *line)
{
  say (line, core_entry_str (line->e, CORE_KEY_TEXT));
}

/* "took back: house flies: refused (12 Jun)"; of a void that is not here only that it is one. */
static void
took_back (Line *line)
{
  const CoreEntry *named = line->what->named;
  WordsEntry what = { .entry = named,
                      .state = line->what->state,
                      .place = line->what->named_place };
  g_autofree char *text = NULL;
  g_autofree char *day = NULL;

  if (named == NULL || named->kind == CORE_KIND_VOID)
    return;
  text = words_entry (line->view, &what);
  day = words_day (line->view, named->day, WORDS_DAY_SHORT);
  /* Translators: an entry and its day: "took back: looked at (12 Jun)" */
  add (line,
       g_strdup_printf (line->what->restores ? T_ (line->view->lang, "entry", "put back: %s (%s)")
                                             : T_ (line->view->lang, "entry", "took back: %s (%s)"),
                        text, day));
}

/* "counts no more, corrected: moulted (12 Jun)". */
static void
counts_now (Line *line)
{
  WordsEntry what = { .entry = line->what->heir,
                      .state = line->what->state,
                      .place = line->what->place };
  g_autofree char *text = words_entry (line->view, &what);
  g_autofree char *day = words_day (line->view, line->what->heir->day, WORDS_DAY_SHORT);
  WordsLang lang = line->view->lang;

  /* Translators: what counts instead of an entry, and its day: "moulted (12 Jun)" */
  add (line, g_strdup_printf (T_ (lang, "entry", "counts no more, corrected to: %s (%s)"), text, day));
}

/* Kinds that need no more than their name. */
static const char *
plain (WordsLang lang, CoreKind kind)
{
  static const WordsTerm table[] = {
    [CORE_KIND_HATCHED] = TERM ("entry", "hatched"),
    [CORE_KIND_LOOKED] = TERM ("entry", "looked at"),
    [CORE_KIND_GONE] = TERM ("entry", "prey gone, probably eaten"),
    [CORE_KIND_MISTED] = TERM ("entry", "sprayed"),
    [CORE_KIND_WATERED] = TERM ("entry", "floor dampened"),
    [CORE_KIND_CLEANED] = TERM ("entry", "cleaned"),
    [CORE_KIND_LOOKS_DEAD] = TERM ("entry", "looks dead, to be seen again"),
    [CORE_KIND_ESCAPED] = TERM ("entry", "escaped"),
    [CORE_KIND_FOUND] = TERM ("entry", "found again"),
    [CORE_KIND_BACK] = TERM ("entry", "came back"),
    [CORE_KIND_HARDENED] = TERM ("entry", "foam hardened"),
    [CORE_KIND_CALLED] = TERM ("entry", "seen calling"),
    [CORE_KIND_VOID] = TERM ("entry", "took an entry back"),
  };

  if ((gsize) kind < G_N_ELEMENTS (table) && table[kind].text != NULL)
    return T_ (lang, table[kind].context, table[kind].text);
  return words_kind (lang, kind);
}

typedef void (*Speak) (Line *line);

static const Speak speakers[CORE_N_KINDS] = {
  [CORE_KIND_ACQUIRED] = acquired, [CORE_KIND_FED] = fed,           [CORE_KIND_DRANK] = drank,
  [CORE_KIND_MOULTED] = moulted,   [CORE_KIND_STAGE] = seen_stage,  [CORE_KIND_SIGN] = sign,
  [CORE_KIND_BELLY] = belly,       [CORE_KIND_MEASURED] = measured, [CORE_KIND_PHOTO] = photo,
  [CORE_KIND_MARKED] = marked,     [CORE_KIND_SEXED] = sexed,       [CORE_KIND_HOUSED] = housed,
  [CORE_KIND_NOTE] = note,         [CORE_KIND_TROUBLE] = trouble,   [CORE_KIND_DIED] = died,
  [CORE_KIND_LEFT] = left,         [CORE_KIND_DONE] = done,         [CORE_KIND_PUT_OFF] = put_off,
  [CORE_KIND_SET] = set,           [CORE_KIND_READING] = reading,   [CORE_KIND_POWER] = power,
  [CORE_KIND_LOGGED] = logged,
  [CORE_KIND_VOID] = took_back,    [CORE_KIND_EXCHANGED] = exchanged,
  [CORE_KIND_DOUBTFUL] = doubtful,
};

char *
words_entry (const WordsView *view, const WordsEntry *entry)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
  Line line = { view, entry, entry->entry, parts };
  CoreKind kind = entry->entry->kind;

  if (!core_entry_told (entry->entry))
    say (&line, words_kind (view->lang, kind));
  else if ((gsize) kind < CORE_N_KINDS && speakers[kind] != NULL)
    speakers[kind](&line);
  else
    words_lot_parts (view, entry, parts);
  if (parts->len == 0)
    say (&line, plain (view->lang, kind));
  if (entry->entry->beyond != NULL)
    /* Translators: keys and values of the journal: "colour=green" */
    add (&line, g_strdup_printf (T_ (view->lang, "entry", "this version does not know %s"), entry->entry->beyond));
  if (words_lot_had (entry))
    SAY (&line, "entry", "with its lot");
  else if (entry->entry->bulk && entry->entry->kind != CORE_KIND_VOID)
    SAY (&line, "entry", "with the whole shelf");
  if (*core_entry_str (entry->entry, CORE_KEY_SEEN_BY) != '\0')
    /* Translators: name of somebody who looked after the animals for the keeper */
    add (&line, g_strdup_printf (T_ (view->lang, "entry", "seen by %s"),
                                 core_entry_str (entry->entry, CORE_KEY_SEEN_BY)));
  if (entry->was_of != NULL)
    /* Translators: an entry that changed its owner, and the number of the cup it was written for */
    add (&line, g_strdup_printf (T_ (view->lang, "entry", "entered with %s"), entry->was_of));
  else if (entry->corrected)
    SAY (&line, "entry", "corrected");
  if (entry->now_of != NULL)
    /* Translators: an entry that changed its owner, and the number of the cup it belongs to now */
    add (&line, g_strdup_printf (T_ (view->lang, "entry", "belongs to %s"), entry->now_of));
  else if (entry->taken_back && entry->heir != NULL)
    counts_now (&line);
  else if (entry->taken_back)
    SAY (&line, "entry", "taken back");
  g_ptr_array_add (parts, NULL);
  return g_strjoinv (T_ (view->lang, "entry list", "; "), (GStrv) parts->pdata);
}
