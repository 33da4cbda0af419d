/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-care.c — the emergency words and the cautions.
 *
 * Emergency words are ordered by how few minutes there are. Cautions are shown
 * where the matter comes up, never as tips in the middle of work.
 */
#include "words/words-private.h"

typedef struct
{
  WordsTerm title, body;
} Pair;

static WordsParagraph
pair (WordsLang lang, const Pair *p)
{
  return (WordsParagraph){ T_ (lang, p->title.context, p->title.text),
                           T_ (lang, p->body.context, p->body.text) };
}

static const Pair emergency[] = {
  { TERM ("emergency", "Fell, still in the old skin"),
    TERM ("emergency",
          "Within minutes hang it by the old skin: pin, clip or tape on the skin, never on the "
          "body. Head down, free all round. Damp the air. Then leave it.") },
  { TERM ("emergency", "Out of the skin, but on the floor"),
    TERM ("emergency",
          "Put a rough twig or mesh under its feet, so that it climbs by itself. "
          "Never lift a soft animal.") },
  { TERM ("emergency", "Stuck in the old skin"),
    TERM ("emergency", "Damp the stuck place with a wet cotton bud. Never pull.") },
  { TERM ("emergency", "Too hot, too cold, power out"),
    TERM ("emergency",
          "Shade it, or warm it up slowly. Water on the wall. Look at every cup of "
          "the shelf.") },
  { TERM ("emergency", "Hangs and eats nothing, for days"),
    TERM ("emergency",
          "A round belly: a moult is near. Prey out, the wall damp, and do not touch it; before the "
          "last moults this may take two weeks. A flat or sunken belly: water on the wall now, "
          "then one small soft prey; take out what it refuses, look at the belly the next day. "
          "Never feed one whose skin splits, that pumps, or that has just moulted.") },
  { TERM ("emergency", "Black or brown vomit, a bad smell, limp"),
    TERM ("emergency",
          "Cool it a little, give it air and a clean cup, water on the wall, no crickets. Keep it apart, "
          "with tweezers of its own. Throw the prey of that tub away. Ask a vet who sees invertebrates.") },
  { TERM ("emergency", "A full female that cannot lay"),
    TERM ("emergency",
          "Weeks over her time, very round, restless: a rough twig and mesh to lay on, warmth of her kind, "
          "water on the wall daily, no more large prey. Do not press her belly. Ask a vet soon.") },
  { TERM ("emergency", "Wings crumpled after the last moult"),
    TERM ("emergency",
          "Leave it hanging alone until they are hard, a day or more; do not pull at them or cut them. It "
          "can live and eat as it is. Give it rough walls to climb, and less height to fall from.") },
  { TERM ("emergency", "A leg lost or bent"),
    TERM ("emergency",
          "Let it dry; a dark clot heals it. A nymph grows a small one at the next moult. Without both "
          "front legs feed it by hand with tweezers; with few walking legs keep the perch low.") },
  { TERM ("emergency", "Is it dead?"),
    TERM ("emergency",
          "A shed skin is light and split behind the head. Some kinds play dead for an hour. A "
          "moulting animal hangs limp. Not sure: enter “looks dead” and look tomorrow.") },
  { TERM ("emergency", "Afterwards"),
    TERM ("emergency",
          "Many do not live. You did not cause it by looking. Ask a vet who sees "
          "invertebrates.") },
};

const WordsParagraph *
words_emergency (WordsLang lang, gsize *n)
{
  static WordsParagraph said[2][G_N_ELEMENTS (emergency)];
  static gsize made[2];
  gsize i = lang == WORDS_ENGLISH ? 1 : 0;

  if (g_once_init_enter (&made[i]))
    {
      for (gsize k = 0; k < G_N_ELEMENTS (emergency); k++)
        said[i][k] = pair (lang, &emergency[k]);
      g_once_init_leave (&made[i], 1);
    }
  *n = G_N_ELEMENTS (emergency);
  return said[i];
}

static const Pair cautions[] = {
  [WORDS_CAUTION_HEAT] = { TERM ("caution", "Heat"),
                           TERM ("caution",
                                 "A thermostat with its sensor inside, at the height of the "
                                 "animal, and a second "
                                 "thermometer. A lamp guarded, off the mesh, 30 cm from anything "
                                 "that burns. A mat at "
                                 "the side, never under a cup, never covered. Nothing heated in "
                                 "the sun, or unattended on "
                                 "its first day.") },
  [WORDS_CAUTION_ELECTRICITY] = { TERM ("caution", "Electricity"),
                                  TERM ("caution",
                                        "Switch off and unplug before spraying or cleaning. A drip "
                                        "loop in each cable, sockets "
                                        "above the water line, a residual-current device in the "
                                        "circuit. Throw a damaged cable "
                                        "away.") },
  [WORDS_CAUTION_POISON] = { TERM ("caution", "Poison"),
                             TERM ("caution",
                                   "No insect spray, flea collar or spot-on, plug-in vaporiser, "
                                   "fresh paint, smoke or "
                                   "scented cleaner in the room. Hands free of repellent, sun "
                                   "cream, nicotine and soap.") },
  [WORDS_CAUTION_CLEANING] = { TERM ("caution", "Cleaning"),
                               TERM ("caution",
                                     "Vinegar and water only in an empty home; rinse, let dry. "
                                     "Never together with bleach or "
                                     "chlorine cleaner: that makes poison gas.") },
  [WORDS_CAUTION_ALLERGY] = { TERM ("caution", "Allergy"),
                              TERM ("caution",
                                    "Roaches, locusts, fly cultures, moth scales and old droppings "
                                    "can cause asthma and "
                                    "rash. Gloves, fresh air, a mask for dusty work, not in a "
                                    "bedroom. With any "
                                    "breathlessness stop and see a doctor.") },
  [WORDS_CAUTION_FRIDGE] = { TERM ("caution", "Fridge"),
                             TERM ("caution",
                                   "Pupae, maggots and egg cases in a closed, labelled box, apart "
                                   "from food. "
                                   "Wash your hands.") },
  [WORDS_CAUTION_CHILDREN] = { TERM ("caution", "Children"),
                               TERM ("caution",
                                     "Only with an adult. Sit low over something soft, hands open. "
                                     "The arms of a large female "
                                     "can draw blood. Wash hands before and after. No heat lamp, "
                                     "no spray near sockets, no "
                                     "vinegar in a child's hands.") },
  [WORDS_CAUTION_RELEASE] = { TERM ("caution", "Release and waste"),
                              TERM ("caution",
                                    "Never let foreign animals, their prey or egg cases out. "
                                    "Freeze used substrate, twigs "
                                    "and unwanted egg cases for a week before the bin. Check your "
                                    "local law on protected and "
                                    "foreign kinds.") },
  [WORDS_CAUTION_POST] = { TERM ("caution", "By post"),
                           TERM ("caution",
                                 "Ask the carrier whether live animals are allowed. 15 to 27 °C at "
                                 "both ends and between. "
                                 "Not within a week before a moult, nor within 3 days after one, 7 "
                                 "for adults. A heat pack "
                                 "never touches the cup. Holes for air. Not before a weekend.") },
  [WORDS_CAUTION_CRICKETS] = { TERM ("caution", "Shop crickets"),
                               TERM ("caution",
                                     "Keepers disagree: some blame them for sickness, others feed "
                                     "them. They bite an animal "
                                     "that moults, so take them out the same evening.") },
  [WORDS_CAUTION_PHOTO] = { TERM ("caution", "Photos"),
                            TERM (
                              "caution",
                              "Not within its moult range and not before it has hardened. Five "
                              "minutes at most, no "
                              "flash through the wall, no lamp close by, never chilled for it.") },
};
G_STATIC_ASSERT (G_N_ELEMENTS (cautions) == WORDS_N_CAUTIONS);

WordsParagraph
words_caution (WordsLang lang, WordsCaution caution)
{
  if ((gsize) caution >= G_N_ELEMENTS (cautions))
    caution = WORDS_CAUTION_HEAT;
  return pair (lang, &cautions[caution]);
}

static const WordsTerm caution_lines[] = {
  [WORDS_CAUTION_HEAT] = TERM ("caution line", "Heat only with a thermostat, its sensor inside; a mat at the side, "
                                               "never under a cup; a lamp 30 cm from anything that burns."),
  [WORDS_CAUTION_ELECTRICITY] = TERM ("caution line", "Switch off and unplug before spraying or cleaning."),
  [WORDS_CAUTION_POISON]
  = TERM ("caution line", "No insect spray, vaporiser, smoke or fresh paint in the room; clean hands."),
  [WORDS_CAUTION_CLEANING] = TERM ("caution line", "Vinegar only in an empty home; rinse, let dry; never together with "
                                                   "chlorine cleaner: poison gas."),
  [WORDS_CAUTION_ALLERGY]
  = TERM ("caution line", "Roaches, locusts, fly cultures, moth scales and old droppings can cause "
                           "asthma and rash: gloves, fresh air."),
  [WORDS_CAUTION_FRIDGE] = TERM ("caution line", "In the fridge only closed, labelled, apart from food."),
  [WORDS_CAUTION_CHILDREN] = TERM ("caution line", "Children only with an adult; wash hands before and after."),
  [WORDS_CAUTION_RELEASE] = TERM ("caution line", "Never let a foreign animal out. Check your local law."),
  [WORDS_CAUTION_POST] = TERM ("caution line", "By post only where the carrier takes live animals, at 15 to 27 °C, "
                                               "not within a week before a moult."),
  [WORDS_CAUTION_CRICKETS] = TERM ("caution line", "Crickets bite an animal that moults: take them out the same "
                                                   "evening."),
  [WORDS_CAUTION_PHOTO]
  = TERM ("caution line", "No flash through the wall, and not while it moults or hardens."),
};
G_STATIC_ASSERT (G_N_ELEMENTS (caution_lines) == WORDS_N_CAUTIONS);

const char *
words_caution_line (WordsLang lang, WordsCaution caution)
{
  if ((gsize) caution >= G_N_ELEMENTS (caution_lines))
    caution = WORDS_CAUTION_HEAT;
  return T_ (lang, caution_lines[caution].context, caution_lines[caution].text);
}

char *
words_past (const WordsView *view, const CorePast *past)
{
  g_autofree char *c = words_quantity (view, past->c, CORE_UNIT_CELSIUS);
  g_autofree char *limit = words_quantity (view, past->limit, CORE_UNIT_CELSIUS);

  if (past->side == 0)
    return NULL;
  if (past->side > 0)
    /* Translators: two temperatures */
    return g_strdup_printf (T_ (view->lang, "caution",
                                "%s is above %s, from where on its kind is in danger: heat kills within hours. "
                                "Heat only with a thermostat, its sensor inside, and a second "
                                "thermometer."),
                            c, limit);
  /* Translators: two temperatures */
  return g_strdup_printf (T_ (view->lang, "caution",
                              "%s is below %s, from where on its kind is in danger: it neither eats nor grows, "
                              "and may die of it. Warm it up slowly."),
                          c, limit);
}

char *
words_caution_lines (WordsLang lang, unsigned which)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (int i = 0; i < WORDS_N_CAUTIONS; i++)
    if ((which & 1u << i) != 0)
      g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "",
                              words_caution_line (lang, (WordsCaution) i));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

const char *
words_caution_id (WordsCaution caution)
{
  static const char *const ids[] = {
    [WORDS_CAUTION_HEAT] = "heat",         [WORDS_CAUTION_ELECTRICITY] = "electricity",
    [WORDS_CAUTION_POISON] = "poison",     [WORDS_CAUTION_CLEANING] = "cleaning",
    [WORDS_CAUTION_ALLERGY] = "allergy",   [WORDS_CAUTION_FRIDGE] = "fridge",
    [WORDS_CAUTION_CHILDREN] = "children", [WORDS_CAUTION_RELEASE] = "release",
    [WORDS_CAUTION_POST] = "post",         [WORDS_CAUTION_CRICKETS] = "crickets",
    [WORDS_CAUTION_PHOTO] = "photo",
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (ids) == WORDS_N_CAUTIONS);

  return (gsize) caution < G_N_ELEMENTS (ids) ? ids[caution] : "";
}
