/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-standin.c — the sheet for somebody who knows nothing: what to do each day, conditions that
 * can be seen in place of forecasts, and what to do when something goes wrong. */
#include "core/core-date.h"
#include "words/words-private.h"

const char *
words_standin (WordsLang lang, WordsStandinPart part)
{
  static const WordsTerm table[] = {
    [WORDS_STANDIN_NUMBER] = TERM ("stand-in", "no."),
    [WORDS_STANDIN_KIND] = TERM ("stand-in", "who"),
    [WORDS_STANDIN_FOOD] = TERM ("stand-in", "food"),
    [WORDS_STANDIN_REST] = TERM ("stand-in", "H/S"),
    [WORDS_STANDIN_TITLE] = TERM ("stand-in", "For whoever looks after the animals"),
    [WORDS_STANDIN_NOTE] =
      TERM ("stand-in",
            "Number: how many to put in. Drop: spray the wall. Grey: keep closed. Write H when it hangs, S when "
            "a skin lies there: then closed and no food that day and as many days more as stand under H/S."),
    [WORDS_STANDIN_FEED] = TERM ("stand-in", "feed"),
    [WORDS_STANDIN_FLIES] = TERM ("stand-in", "flies"),
    [WORDS_STANDIN_FLIES_ALWAYS] = TERM ("stand-in", "flies always in view"),
    [WORDS_STANDIN_SMALL_PREY] = TERM ("stand-in", "prey of at most half its length"),
    [WORDS_STANDIN_CULTURE] = TERM ("stand-in", "gives fruit flies: tap some out, shut it, no sun"),
    [WORDS_STANDIN_EGGCASE] = TERM ("stand-in", "hatches: flies in, call"),
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (table) == WORDS_N_STANDIN_PARTS);

  return words_term (lang, table, G_N_ELEMENTS (table), (int) part);
}

const WordsParagraph *
words_standin_conditions (WordsLang lang, gsize *n)
{
  static const struct
  {
    WordsTerm title, body;
  } table[] = {
    { TERM ("stand-in", "Every day"),
      TERM ("stand-in",
            "Look at each cup through its wall. Do what stands in the column of the day and tick its box. A "
            "number is how many of the food of that line to put in. A drop is one short spray on the wall, never "
            "on the animal. Nothing in the column: look only.") },
    { TERM ("stand-in", "It hangs still head down and takes no notice, or an empty skin lies there"),
      TERM ("stand-in",
            "It is moulting or has just moulted. Do not open the cup, do not knock or carry it. No food that day "
            "and for as many days more as its line says under H/S. Write H (hangs) or S (skin) into the box of "
            "the day. A drop on such a day: the wall away from the animal, or nothing.") },
    { TERM ("stand-in", "You are not sure"),
      TERM ("stand-in",
            "Water, no food, and look again tomorrow. A day without food seldom harms. Only where “flies always” "
            "stands must flies be in view at all times: those are hatchlings.") },
    { TERM ("stand-in", "It lies on the floor, or is stuck in its skin"),
      TERM ("stand-in",
            "Call at once. Until then: out of the skin but on the floor, put a rough twig or a piece of net under "
            "its feet, and do not lift it. Stuck: damp the place with a wet cotton bud, never pull.") },
    { TERM ("stand-in", "It looks dead"),
      TERM ("stand-in",
            "Leave it in its cup and write it down. An empty skin is light and split behind the head; some kinds "
            "lie still for an hour.") },
    { TERM ("stand-in", "The heating fails, or it is too hot"),
      TERM ("stand-in",
            "Cold: put the cups together in the warmest room, away from the sun, never onto a stove or a radiator. "
            "Hot: shade them, give air, spray the walls. Switch lamps off and unplug them before you spray. "
            "Then call.") },
    { TERM ("stand-in", "For you and the house"),
      TERM ("stand-in",
            "Wash your hands before and after. No insect spray, scented cleaner or smoke in the room. Shut the "
            "window while a cup is open: nothing may get out. Flies, roaches, locusts and old cups can cause "
            "itching or asthma: with any breathlessness stop and see a doctor.") },
  };
  static WordsParagraph out[G_N_ELEMENTS (table)];

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    out[i] = (WordsParagraph){ T_ (lang, table[i].title.context, table[i].title.text),
                               T_ (lang, table[i].body.context, table[i].body.text) };
  *n = G_N_ELEMENTS (out);
  return out;
}

char *
words_standin_column (WordsLang lang, CoreDay day)
{
  WordsView near = { lang, day, 1 }; /* without its year */
  g_autofree char *date = words_day (&near, day, WORDS_DAY_SHORT);

  /* Two lines of a narrow column, so that all its heads are of one size. */
  return g_strdup_printf ("%s\n%s", words_weekday_short (lang, core_day_weekday (day)), date);
}

char *
words_standin_shelf (WordsLang lang, const char *place)
{
  /* Translators: title of a printed page; %s is a shelf */
  return g_strdup_printf (T_ (lang, "stand-in", "Day by day: %s"), place);
}

char *
words_standin_span (const WordsView *view, CoreDay from, CoreDay to)
{
  WordsView near = { view->lang, from, 1 }; /* without its year */
  g_autofree char *last = words_day (view, to, WORDS_DAY_SHORT);
  g_autofree char *first = words_day (&near, from, WORDS_DAY_SHORT);
  int y1, y2, m1, m2, day;

  if (from == to)
    return words_day (view, from, WORDS_DAY_FULL);
  core_day_to_ymd (from, &y1, &m1, &day);
  core_day_to_ymd (to, &y2, &m2, &day);
  if (y1 != y2)
    {
      g_free (first);
      first = words_day (view, from, WORDS_DAY_SHORT);
    }
  /* Translators: two days, each a short weekday and a date: "Mon 30 Nov – Fri 4 Dec 2026" */
  return g_strdup_printf (T_ (view->lang, "stand-in", "%s %s – %s %s"),
                          words_weekday_short (view->lang, core_day_weekday (from)), first,
                          words_weekday_short (view->lang, core_day_weekday (to)), last);
}

/* "2 house flies, once it has moulted" */
char *
words_standin_food (WordsLang lang, const CoreStandin *row)
{
  g_autofree char *food = NULL;

  if (row->flies_always)
    return g_strdup (words_standin (lang, WORDS_STANDIN_FLIES_ALWAYS));
  food = row->prey >= 0 ? words_prey (lang, row->prey, row->n)
                        : g_strdup (words_standin (lang, WORDS_STANDIN_SMALL_PREY));
  if (row->take_out)
    {
      g_autofree char *only = g_steal_pointer (&food);

      /* Translators: prey that bites: "2 crickets; out again in the evening" */
      food = g_strdup_printf (T_ (lang, "stand-in", "%s; out again in the evening"), only);
    }
  if (!row->until_moult)
    return g_steal_pointer (&food);
  /* Translators: food, of an animal that is about to moult: "2 house flies" */
  return g_strdup_printf (T_ (lang, "stand-in", "%s, once it has moulted"), food);
}

char *
words_standin_day (WordsLang lang, const CoreStandin *row, guint day)
{
  const CoreStandinDay *at = &row->days[day];

  if (row->flies_always)
    return g_strdup (words_standin (lang, WORDS_STANDIN_FLIES));
  if (!at->feed)
    return NULL;
  if (row->prey < 0 || row->n == 0)
    return g_strdup (words_standin (lang, WORDS_STANDIN_FEED));
  return g_strdup_printf (at->closed ? "(%d)" : "%d", row->n);
}

WordsParagraph
words_standin_supplies (WordsLang lang, const guint prey[CORE_N_PREY], guint n_lots, const char *cultures, char **body)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *list = NULL;

  for (int i = 0; i < CORE_N_PREY; i++)
    if (prey[i] > 0)
      g_ptr_array_add (parts, words_prey (lang, i, (int) prey[i]));
  if (n_lots > 0)
    g_ptr_array_add (parts, g_strdup_printf (TN_ (lang, "stand-in", "fruit flies at all times for %lu cup",
                                                  "fruit flies at all times for %lu cups", (gulong) n_lots),
                                             (gulong) n_lots));
  g_ptr_array_add (parts, NULL);
  list = g_strjoinv (" · ", (GStrv) parts->pdata);
  /* Translators: a list of prey: "24 house flies · 6 moths" */
  *body = list[0] == '\0' ? g_strdup (T_ (lang, "stand-in", "None."))
                          : g_strdup_printf (T_ (lang, "stand-in", "%s. Have some more: a few get away."), list);
  if (cultures != NULL && cultures[0] != '\0')
    {
      g_autofree char *needed = *body;

      /* Translators: what is needed, and the codes of the jars: "C1, C2" */
      *body = g_strdup_printf (T_ (lang, "stand-in", "%s Fruit flies come out of the jars %s; the rest is to be bought or "
                                                     "handed over before."),
                               needed, cultures);
    }
  return (WordsParagraph){ T_ (lang, "stand-in", "Food needed for these days"), *body };
}

WordsParagraph
words_standin_before (WordsLang lang, const char *numbers, char **body)
{
  /* Translators: numbers of cups: "14, 33, 60" */
  *body = g_strdup_printf (T_ (lang, "stand-in", "This sheet counts on it that these are fed before the first day: %s."),
                           numbers);
  return (WordsParagraph){ T_ (lang, "stand-in", "Before the first day"), *body };
}

WordsParagraph
words_standin_call (WordsLang lang, const char *whom, char **body)
{
  *body = g_strdup (whom != NULL && whom[0] != '\0' ? whom : "________________________________________");
  return (WordsParagraph){ T_ (lang, "stand-in", "Call"), *body };
}
