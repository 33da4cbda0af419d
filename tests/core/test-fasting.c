/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-fasting.c — one that refuses: state in, answer out, a row for each clause. */
#include "core/core-fasting.h"
#include "plan-case.h"

#include <math.h>

#define NO_BELLY 0
#define FAR 40 /* days to the range */

typedef struct
{
  const char *name;
  const char *entries[6]; /* of today, or "-N|…" of N days ago */
  int range;              /* days until it begins; -1 = begun; 0 = no forecast */
  double within14;
  int moults;
  CoreFastingAnswer answer;
  CoreFastingBy by;
  int refusals, belly;
  int ago; /* days since the last refusal, -1 = not asked */
  double by_now;
  bool rests;
} Row;

#define PUT_IN "fed|prey=house fly"

#define REFUSED "fed|prey=house fly|outcome=refused"
#define TAKEN "fed|prey=house fly|outcome=taken"

/* clang-format off */
static const Row rows[] = {
  { "eats", { TAKEN }, -1, .9, 4, CORE_FASTING_NONE, CORE_FASTING_BY_NONE, 0, NO_BELLY },
  { "ate after it refused", { "-2|" REFUSED, TAKEN }, -1, .9, 4, CORE_FASTING_NONE,
    CORE_FASTING_BY_NONE, 0, NO_BELLY },
  { "refused long ago, and nothing since", { "-30|" REFUSED }, -1, .4, 4, CORE_FASTING_CANNOT_TELL,
    CORE_FASTING_BY_BELLY, 1, NO_BELLY, .ago = 30 },
  { "refused long ago, and once put in since", { "-30|" REFUSED, "-1|" PUT_IN }, -1, .4, 4, CORE_FASTING_CANNOT_TELL,
    CORE_FASTING_BY_BELLY, 1, NO_BELLY, .ago = 30 },
  { "refused long ago, and often put in since", { "-30|" REFUSED, "-9|" PUT_IN, "-6|" PUT_IN, "-3|" PUT_IN }, FAR, .1,
    4, CORE_FASTING_NOT_KNOWN, CORE_FASTING_BY_OFFERED, 0, NO_BELLY, .ago = -1 },
  { "put in often, never seen to eat", { "-25|moulted", "-20|" PUT_IN, "-12|" PUT_IN, "-3|" PUT_IN }, FAR, .1, 4,
    CORE_FASTING_NOT_KNOWN, CORE_FASTING_BY_OFFERED, 0, NO_BELLY, .ago = -1 },
  { "put in often, thin", { "-20|" PUT_IN, "-12|" PUT_IN, "-3|" PUT_IN, "belly|score=2" }, FAR, .1, 4,
    CORE_FASTING_HUNGRY, CORE_FASTING_BY_THIN, 0, 2, .ago = -1 },
  { "put in, for less than two weeks", { "-11|" PUT_IN, "-8|" PUT_IN, "-3|" PUT_IN }, FAR, .1, 4, CORE_FASTING_NONE,
    CORE_FASTING_BY_NONE, 0, NO_BELLY },
  { "put in, and gone at the next look", { "-20|" PUT_IN, "-8|" PUT_IN, "-3|" PUT_IN, "-2|gone" }, FAR, .1, 4,
    CORE_FASTING_NONE, CORE_FASTING_BY_NONE, 0, NO_BELLY },
  { "probably moulted", { "-2|" REFUSED, REFUSED, "belly|score=4" }, -1, .98, 4, CORE_FASTING_MOULTED,
    CORE_FASTING_BY_MOULTED, 2, 4, .by_now = .95 },
  { "probably moulted, flat: after a moult it is", { REFUSED, "belly|score=2" }, -1, .98, 4, CORE_FASTING_MOULTED,
    CORE_FASTING_BY_MOULTED, 1, 2, .by_now = .95 },
  { "perhaps moulted, more likely not", { REFUSED, "belly|score=4" }, -1, .9, 4, CORE_FASTING_MOULT_LIKELY,
    CORE_FASTING_BY_CHANCE, 1, 4, .by_now = .3 },
  { "split, no moult entered", { "-3|" REFUSED, "-2|sign|sign=splitting" }, -1, .3, 5, CORE_FASTING_MOULTED,
    CORE_FASTING_BY_MOULTED, 1, NO_BELLY, .ago = 3 },
  { "stuck, and refuses", { "-1|moulted|outcome=stuck", REFUSED }, FAR, .1, 4, CORE_FASTING_ILL,
    CORE_FASTING_BY_STUCK, 1, NO_BELLY },
  { "at rest", { "-9|set|key=rest|value=yes", REFUSED }, FAR, .1, 4, CORE_FASTING_RESTING, CORE_FASTING_BY_REST, 1,
    NO_BELLY, .rests = true },
  { "said to rest, of a kind that does not", { "-9|set|key=rest|value=yes", REFUSED }, FAR, .1, 4,
    CORE_FASTING_CANNOT_TELL, CORE_FASTING_BY_BELLY, 1, NO_BELLY },
  { "in its range, round", { "-2|" REFUSED, REFUSED, "belly|score=4" }, -1, .8, 4,
    CORE_FASTING_MOULT_LIKELY, CORE_FASTING_BY_CHANCE, 2, 4 },
  { "in its range, belly unknown", { "-2|" REFUSED, REFUSED }, -1, .8, 4,
    CORE_FASTING_CANNOT_TELL, CORE_FASTING_BY_BELLY, 2, NO_BELLY },
  { "in its range, thin", { "-2|" REFUSED, REFUSED, "belly|score=2" }, -1, .8, 4,
    CORE_FASTING_HUNGRY, CORE_FASTING_BY_THIN, 2, 2 },
  { "far from its range, thin", { REFUSED, "belly|score=1" }, FAR, .1, 4, CORE_FASTING_HUNGRY,
    CORE_FASTING_BY_THIN, 1, 1 },
  { "entered as thin", { REFUSED, "trouble|what=thin" }, FAR, .1, 4, CORE_FASTING_HUNGRY,
    CORE_FASTING_BY_THIN, 1, NO_BELLY },
  { "far from its range, round", { REFUSED, "belly|score=4" }, FAR, .1, 4,
    CORE_FASTING_CANNOT_TELL, CORE_FASTING_BY_ROUND, 1, 4 },
  { "far from its range, belly unknown", { REFUSED }, FAR, .1, 4, CORE_FASTING_CANNOT_TELL,
    CORE_FASTING_BY_BELLY, 1, NO_BELLY },
  { "an old score is none", { "-6|belly|score=4", REFUSED }, FAR, .1, 4, CORE_FASTING_CANNOT_TELL,
    CORE_FASTING_BY_BELLY, 1, NO_BELLY },
  { "range begun, moult unlikely", { REFUSED, "belly|score=3" }, -1, .3, 4,
    CORE_FASTING_CANNOT_TELL, CORE_FASTING_BY_ROUND, 1, 3 },
  { "no forecast", { REFUSED, "belly|score=3" }, 0, 0, 4, CORE_FASTING_CANNOT_TELL,
    CORE_FASTING_BY_ROUND, 1, 3 },
  { "pumping stands above thin", { REFUSED, "belly|score=1", "sign|sign=pumping" }, FAR, .1, 4,
    CORE_FASTING_MOULT_LIKELY, CORE_FASTING_BY_SIGN, 1, 1 },
  { "hanging in the range stands above thin", { REFUSED, "belly|score=1", "sign|sign=hanging" }, -1,
    .8, 4, CORE_FASTING_MOULT_LIKELY, CORE_FASTING_BY_SIGN, 1, 1 },
  { "hanging outside it does not", { REFUSED, "belly|score=1", "sign|sign=hanging" }, FAR, .1, 4,
    CORE_FASTING_HUNGRY, CORE_FASTING_BY_THIN, 1, 1 },
  { "just moulted", { "-1|moulted|seen=yes", REFUSED }, FAR, .1, 4,
    CORE_FASTING_JUST_MOULTED, CORE_FASTING_BY_SOFT, 1, NO_BELLY },
  { "adult, round", { "-9|stage|seen=adult", REFUSED, "belly|score=4" }, 0, 0, 4,
    CORE_FASTING_CANNOT_TELL, CORE_FASTING_BY_ADULT, 1, 4 },
  { "adult, thin", { "-9|stage|seen=adult", REFUSED, "belly|score=2" }, 0, 0, 4,
    CORE_FASTING_HUNGRY, CORE_FASTING_BY_THIN, 1, 2 },
  { "dead", { REFUSED, "died" }, -1, .8, 4, CORE_FASTING_NONE, CORE_FASTING_BY_NONE, 0, NO_BELLY },
};
/* clang-format on */

static void
test_row (gconstpointer data)
{
  const Row *row = data;
  PlanCase c;
  CoreFasting got;

  plan_case_init (&c, CORE_GROUP_HARDY, row->moults);
  if (row->range != 0)
    plan_case_range (&c, TODAY + (row->range < 0 ? -2 : row->range), TODAY + row->range + 9);
  c.forecast.within7 = row->within14 / 2;
  c.forecast.within14 = row->within14;
  c.forecast.by_now = row->by_now;
  c.profile.winter_rest = row->rests;
  for (gsize i = 0; i < G_N_ELEMENTS (row->entries) && row->entries[i] != NULL; i++)
    {
      const char *text = row->entries[i];
      int ago = text[0] == '-' ? atoi (text + 1) : 0;

      plan_case_say (&c, TODAY - ago, ago > 0 ? strchr (text, '|') + 1 : text);
    }
  plan_case_run (&c);
  got = core_fasting (&c.state, &c.forecast, &c.plan, TODAY);
  g_assert_cmpstr (core_fasting_name (got.answer), ==, core_fasting_name (row->answer));
  g_assert_cmpint (got.by, ==, row->by);
  if (row->answer != CORE_FASTING_NONE)
    {
      g_assert_cmpint (got.belly, ==, row->belly);
    }
  if (row->answer != CORE_FASTING_NONE && row->ago >= 0)
    {
      g_assert_cmpint (got.refusals, ==, row->refusals);
      g_assert_cmpint (got.last, ==, TODAY - row->ago);
    }
  plan_case_clear (&c);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *path = g_strdup_printf ("/core/fasting/%s", rows[i].name);

      g_test_add_data_func (path, &rows[i], test_row);
    }
  return g_test_run ();
}
