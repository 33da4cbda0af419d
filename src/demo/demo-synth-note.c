/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-synth-note.c — invented notes of a keeper, put together from phrases.
 *
 * Four slots with a few dozen phrases each: enough different words and word
 * orders to try a search with, and nothing that anybody really wrote. */
#include "demo/demo-synth-private.h"

static const char *const openings[] = {
  "Hangs under the lid",
  "Sits on the bark",
  "Climbed the mesh",
  "Waits near the lamp",
  "Stays behind the leaf",
  "Swayed when I opened",
  "Threat pose at the tongs",
  "Moved to the warm corner",
  "Cleans its forelegs",
  "Walks about in the evening",
  "Sleeps by the ventilation",
  "Hardly moves",
  "Turned dark green",
  "Turned brown",
  "Looks pale this week",
  "Wing pads swell a little",
  "Belly well rounded",
  "Belly rather flat",
  "Lost the tip of one antenna",
  "One foot misses a claw",
  "Left raptor healed",
  "Found a fly egg on the lid",
  "Fungus gnats in the soil",
  "Mould on old prey",
  "Substrate too wet",
  "Mesh torn at the rim",
  "New twig fixed with glue",
  "Cup had condensation",
  "Thermometer read high",
  "Lamp failed overnight",
};

static const char *const middles[] = {
  "took the fly at once",
  "ignored the fly",
  "dropped the cricket",
  "drank for a long time",
  "drank two drops",
  "caught a moth in flight",
  "ate only half",
  "ate two in a row",
  "let prey walk past",
  "watched my hand",
  "jumped to the door",
  "stayed calm while misting",
  "shook after spraying",
  "kept its head down",
  "climbed back up",
  "fell and got up again",
  "rested upside down",
  "groomed both eyes",
  "stretched one leg",
  "folded its arms tight",
  "hid when the light came on",
  "preferred the bluebottle",
  "refused the mealworm",
  "left the legs of the roach",
};

static const char *const causes[] = {
  "after the heating was off",   "since the move",          "because the room was cold",
  "in spite of the heat",        "after the last moult",    "before the next moult, I think",
  "as its sister did",           "like the others",         "for the third evening",
  "for the first time",          "after fresh misting",     "when the window stood open",
  "while I photographed it",     "during the thunderstorm", "on a warm night",
  "with the new batch of flies",
};

static const char *const plans[] = {
  "Look again tomorrow.",
  "Give smaller prey next time.",
  "Mist less.",
  "Mist more.",
  "Needs a taller home soon.",
  "Keep for pairing.",
  "Sell after the next moult.",
  "Promised to a friend.",
  "Weigh it on Sunday.",
  "Take a picture of the shed.",
  "Change the substrate.",
  "Leave it alone for now.",
  "Ask at the meeting.",
  "Nothing to do.",
  "",
  "",
};

#define PICK(rand, list) list[demo_rand_int (rand, 0, (int) G_N_ELEMENTS (list) - 1)]

char *
synth_note (DemoRand *rand)
{
  const char *opening = PICK (rand, openings);
  const char *middle = PICK (rand, middles);
  const char *cause = PICK (rand, causes);
  const char *plan = PICK (rand, plans);

  return g_strdup_printf ("%s, %s %s.%s%s", opening, middle, cause, plan[0] != '\0' ? " " : "",
                          plan);
}
