/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-animals.c — the invented room: who lives where. Every line is made up. */
#include "demo/demo-private.h"

const DemoPlace demo_places[] = {
  { "Window shelf", "W", 23, 18, 12 },
  { "Shelf B", "B", 26, 20, 12 },
  { "Warm shelf", "H", 30, 21, 12 },
};
const gsize demo_n_places = G_N_ELEMENTS (demo_places);

#define HM "Hierodula membranacea"
#define TS "Tenodera sinensis"
#define HC "Hymenopus coronatus"
#define ID "Idolomantis diabolica"
#define PP "Phyllocrania paradoxa"
#define SV "Sphodromantis viridis"
#define M CORE_SEX_MALE
#define F CORE_SEX_FEMALE

/* species, name, shelf, sex, hatched, came, claim, home mm, story, seller's sex */
const DemoAnimal demo_animals[] = {
  { TS, "", 0, F, 152, 104, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { TS, "", 0, M, 152, 104, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { TS, "Reed", 0, F, 96, 0, FALSE, 0, DEMO_STORY_PLAIN, NULL },
  { TS, "", 0, M, 96, 0, FALSE, 0, DEMO_STORY_HANGS, NULL },
  { TS, "", 0, F, 96, 0, FALSE, 0, DEMO_STORY_PLAIN, NULL },
  { TS, "", 0, M, 96, 0, FALSE, 0, DEMO_STORY_UNSEEN, NULL },
  { TS, "", 0, F, 96, 0, FALSE, 0, DEMO_STORY_DIED, NULL },
  { TS, "", 0, F, 96, 0, FALSE, 0, DEMO_STORY_PLAIN, NULL },
  { SV, "", 0, F, 171, 92, TRUE, 0, DEMO_STORY_PLAIN, "female" },
  { SV, "", 0, M, 171, 92, TRUE, 0, DEMO_STORY_PLAIN, "male" },
  { PP, "Leaf", 0, F, 205, 118, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { PP, "", 0, M, 205, 118, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { PP, "", 0, F, 88, 60, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { PP, "", 0, M, 88, 60, TRUE, 0, DEMO_STORY_FRESH, NULL },

  { HM, "", 1, F, 118, 0, FALSE, 0, DEMO_STORY_PLAIN, NULL },
  { HM, "", 1, M, 118, 0, FALSE, 0, DEMO_STORY_PLAIN, NULL },
  { HM, "", 1, F, 118, 0, FALSE, 0, DEMO_STORY_HANGS, NULL },
  { HM, "", 1, M, 118, 0, FALSE, 0, DEMO_STORY_PLAIN, NULL },
  { HM, "Oak", 1, F, 118, 0, FALSE, 120, DEMO_STORY_SMALL_HOME, NULL },
  { HM, "", 1, M, 118, 0, FALSE, 0, DEMO_STORY_PLAIN, NULL },
  { HM, "", 1, F, 118, 0, FALSE, 0, DEMO_STORY_THIN, NULL },
  { HM, "", 1, M, 118, 0, FALSE, 0, DEMO_STORY_SOLD, NULL },
  { HM, "", 1, F, 176, 110, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { HM, "", 1, M, 176, 110, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { HC, "", 1, F, 131, 101, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { HC, "", 1, M, 131, 101, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { HC, "Petal", 1, F, 131, 101, TRUE, 0, DEMO_STORY_FRESH, NULL },
  { HC, "", 1, M, 74, 0, FALSE, 0, DEMO_STORY_PLAIN, NULL },
  { HC, "", 1, F, 74, 0, FALSE, 0, DEMO_STORY_PLAIN, NULL },
  { HC, "", 1, F, 74, 0, FALSE, 0, DEMO_STORY_PLAIN, NULL },
  { HC, "", 1, M, 74, 0, FALSE, 0, DEMO_STORY_DIED, NULL },
  { HC, "", 1, M, 74, 0, FALSE, 0, DEMO_STORY_PLAIN, NULL },
  { "unknown", "from the fair", 1, F, 90, 33, FALSE, 0, DEMO_STORY_PLAIN, NULL },

  { ID, "", 2, F, 140, 86, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { ID, "", 2, M, 140, 86, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { ID, "", 2, F, 140, 86, TRUE, 0, DEMO_STORY_HANGS, NULL },
  { ID, "", 2, M, 140, 86, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { ID, "", 2, F, 52, 24, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { ID, "", 2, M, 52, 24, TRUE, 0, DEMO_STORY_UNSEEN, NULL },
  { HM, "", 2, F, 196, 119, TRUE, 0, DEMO_STORY_PLAIN, "female" },
  { HM, "", 2, M, 196, 119, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { HC, "", 2, M, 166, 119, TRUE, 0, DEMO_STORY_PLAIN, NULL },
  { HC, "Ivory", 2, F, 207, 119, TRUE, 0, DEMO_STORY_PLAIN, NULL },
};
const gsize demo_n_animals = G_N_ELEMENTS (demo_animals);
