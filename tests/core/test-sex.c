/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-sex.c — odds of single readings, their combination, and the words.
 *
 * The odds are the program's own; what is checked is that they combine as the
 * models say and that no single picture is ever sure.
 */
#include "sex-case.h"

#include "core/core-sex-tables.h"

/* One count: odds male : female by the table. */
static const struct
{
  int moults, count, small, last;
  double male, female; /* odds */
} COUNTS[] = {
  { 5, 8, CORE_SMALL_NOT, -1, .78, .02 }, /* 39:1, capped below */
  { 5, 6, CORE_SMALL_NOT, -1, .05, .83 },
  { 5, 7, CORE_SMALL_NOT, -1, .13, .10 },
  { 5, 9, CORE_SMALL_COUNTED, -1, .78, .02 }, /* counted: one less */
  { 5, 7, CORE_SMALL_COUNTED, -1, .05, .83 },
  { 5, 8, CORE_SMALL_UNKNOWN, -1, .91, .12 }, /* .88 */
  { 5, 6, CORE_SMALL_UNKNOWN, -1, .05 + .01 / 3, .83 + .03 },
  { 5, 5, CORE_SMALL_NOT, -1, 1, 3 },     /* 1 to 9 by the table: no mantis shows so few, half of it */
  { 5, 9, CORE_SMALL_NOT, -1, 2.1213203435596424, 1 },     /* 4.5 to 1: half of its logarithm */
  { 5, 9, CORE_SMALL_UNKNOWN, -1, 5.5113519212621506, 1 }, /* .81 to .0267, half of it: undecided */
  { 5, 14, CORE_SMALL_NOT, -1, 1, 1 },
  { 2, 6, CORE_SMALL_NOT, -1, 1, 1 }, /* too early: six as well as eight */
  { 2, 8, CORE_SMALL_NOT, -1, 1, 1 },
  { 0, 8, CORE_SMALL_UNKNOWN, CORE_LAST_BOAT, 1, 1 },
  { 5, -1, CORE_SMALL_UNKNOWN, CORE_LAST_BOAT, 1, 20 },
  { 5, -1, CORE_SMALL_UNKNOWN, CORE_LAST_SMALL, 20, 1 },
  { 5, -1, CORE_SMALL_UNKNOWN, CORE_LAST_UNCLEAR, 1, 1 },
};

static void
test_counts (void)
{
  CoreProfile p = profile_of (false);
  for (size_t i = 0; i < G_N_ELEMENTS (COUNTS); i++)
    {
      CoreSexInput in =
        marked (COUNTS[i].moults, 1, COUNTS[i].count, COUNTS[i].small, COUNTS[i].last);
      double odds = COUNTS[i].male / COUNTS[i].female;
      odds = fmax (1 / 32.0, fmin (32, odds));
      g_assert_cmpfloat_with_epsilon (male_of (&p, &in, 1), odds / (1 + odds), 1e-9);
    }
  CoreSexInput eight = marked (4, 1, 8, CORE_SMALL_UNKNOWN, -1);
  g_assert_cmpint ((int) lround (100 * male_of (&p, &eight, 1)), ==, 88);
}

static void
test_too_early (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput eight = marked (2, 1, 8, CORE_SMALL_NOT, -1);
  g_assert_cmpfloat (male_of (&p, &eight, 1), ==, .5);
  CoreSexInput in = marked (2, 1, 6, CORE_SMALL_NOT, -1);
  CoreSexVerdict v = combine (&p, &in, 1);
  g_assert_true (v.too_early);
  g_assert_cmpfloat (v.male, ==, .5);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_UNDECIDED);
  g_assert_cmpint (v.evidence[0].note, ==, CORE_WEIGHT_TOO_EARLY);
  g_assert_true (v.ask & CORE_ASK_NEXT_STAGE);
  core_sex_verdict_clear (&v);
}

/* Where the stage is unsure the odds lie between 1:1 and the full ones. */
static void
test_stage_average (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in = marked (3, 1, 6, CORE_SMALL_NOT, -1);
  in.moults_p[3] = in.moults_p[2] = .5;
  double male = .5 * .05 + .5 * .44, female = .5 * .83 + .5 * .44;
  g_assert_cmpfloat_with_epsilon (male_of (&p, &in, 1), male / (male + female), 1e-9);
  core_sex_input_moults (&in, -1);
  CoreSexVerdict v = combine (&p, &in, 1);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_UNDECIDED);
  g_assert_true (v.ask & CORE_ASK_STAGE);
  core_sex_verdict_clear (&v);
}

static void
test_finder (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in = marked (5, 1, -1, CORE_SMALL_NOT, -1);
  in.reading.likelihood[6] = .7;
  in.reading.likelihood[8] = .02;
  double male = .7 * .05 + .02 * .78, female = .7 * .83 + .02 * .02;
  CoreSexVerdict v = combine (&p, &in, 1);
  g_assert_cmpfloat_with_epsilon (v.male, male / (male + female), 1e-9);
  g_assert_cmpint (v.evidence[0].note, ==, CORE_WEIGHT_UNCONFIRMED);
  g_assert_true (v.ask & CORE_ASK_CONFIRM);
  core_sex_verdict_clear (&v);

  /* A confirmed count enters as that count, whatever the finder thought. */
  in.reading.count = 8;
  in.reading.by_keeper = true;
  g_assert_cmpfloat_with_epsilon (male_of (&p, &in, 1), 32.0 / 33, 1e-9);

  /* A picture that may show no plates at all says less. */
  in = marked (5, 1, -1, CORE_SMALL_NOT, -1);
  in.reading.likelihood[6] = .1;
  double clear = male_of (&p, &in, 1);
  in.reading.likelihood_none = .9;
  g_assert_cmpfloat (male_of (&p, &in, 1), >, clear);
  g_assert_cmpfloat (male_of (&p, &in, 1), <, .5);
}

static void
test_empusid (void)
{
  CoreProfile p = profile_of (true);
  CoreSexInput in = marked (5, 1, 6, CORE_SMALL_NOT, -1);
  in.reading.convention = CORE_CONVENTION_APPENDAGES;
  g_assert_cmpfloat_with_epsilon (male_of (&p, &in, 1), .78 / .88, 1e-9);
  in.reading.count = 5;
  g_assert_cmpfloat_with_epsilon (male_of (&p, &in, 1), .13 / .96, 1e-9);
  in.reading.count = 6;
  in.reading.convention = CORE_CONVENTION_PLATES;
  g_assert_cmpfloat_with_epsilon (male_of (&p, &in, 1), .05 / .88, 1e-9);

  in.reading.convention = CORE_CONVENTION_UNKNOWN;
  CoreSexVerdict v = combine (&p, &in, 1);
  g_assert_cmpfloat_with_epsilon (v.male, (.05 + .78) / (.05 + .78 + .83 + .10), 1e-9);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_UNDECIDED);
  g_assert_true (v.ask & CORE_ASK_CONVENTION);
  g_assert_true (v.ask & CORE_ASK_ANTENNAE);
  core_sex_verdict_clear (&v);

  /* Feathered antennae of an adult: 50:1, and 32:1 when seen on one picture. */
  CoreSexInput cue = sexed (8, CORE_METHOD_CUE, CORE_SEX_MALE);
  strcpy (cue.reading.cue, "antennae");
  g_assert_cmpfloat (male_of (&p, &cue, 1), ==, .5);
  cue.adult = true;
  g_assert_cmpfloat_with_epsilon (male_of (&p, &cue, 1), 50.0 / 51, 1e-9);
  cue.reading.from = CORE_KIND_MARKED;
  cue.reading.cue_sex = CORE_SEX_MALE;
  cue.reading.photo = photo (3);
  g_assert_cmpfloat_with_epsilon (male_of (&p, &cue, 1), 32.0 / 33, 1e-9);
}

static const struct
{
  double ratio, sd, odds;
} WINGS[] = {
  { 1.10, .02, 6 }, { .90, .02, 1 / 6.0 }, { 1.02, .02, 1 }, { 1.10, .08, 1 }, { 1.02, .01, 6 },
};

/* Forewing ÷ pronotum of Hierodula tenuidentata: males 2.6, females 2.1 (few
 * animals; the reference of published numbers, section 6b). */
static void
test_wings (void)
{
  CoreProfile p = profile_of (false);
  for (size_t i = 0; i < G_N_ELEMENTS (WINGS); i++)
    {
      CoreSexInput in = marked (8, 1, -1, CORE_SMALL_UNKNOWN, -1);
      in.reading.wing_ratio = WINGS[i].ratio;
      in.reading.wing_sd = WINGS[i].sd;
      g_assert_cmpfloat (male_of (&p, &in, 1), ==, .5); /* no adult: no evidence */
      in.adult = true;
      g_assert_cmpfloat_with_epsilon (male_of (&p, &in, 1), WINGS[i].odds / (1 + WINGS[i].odds),
                                      1e-9);
    }
  CoreSexInput in = marked (8, 1, -1, CORE_SMALL_UNKNOWN, -1);
  in.adult = true;
  in.reading.tegmen_pronotum = 2.6;
  in.reading.tegmen_pronotum_sd = .05;
  double sharp = male_of (&p, &in, 1);
  g_assert_cmpfloat (sharp, >, .9);
  in.reading.tegmen_pronotum_sd = .5;
  g_assert_cmpfloat (male_of (&p, &in, 1), <, sharp);
  in.reading.tegmen_pronotum_sd = .05;
  in.reading.tegmen_pronotum = 2.1;
  g_assert_cmpfloat (male_of (&p, &in, 1), <, .2);
  in.reading.tegmen_pronotum = 3.1; /* capped at 20:1 */
  g_assert_cmpfloat_with_epsilon (male_of (&p, &in, 1), 20.0 / 21, 1e-9);
  in.reading.tegmen_pronotum = 5; /* no mantis: wrong marks */
  g_assert_cmpfloat (male_of (&p, &in, 1), ==, .5);
}

static void
test_one_picture (void)
{
  CoreProfile p = profile_of (false);
  /* The sharper fully, the other at half: seven plates and a boat. */
  CoreSexInput in = marked (5, 1, 7, CORE_SMALL_NOT, CORE_LAST_BOAT);
  double lo = log (1 / 20.0) + .5 * log (.13 / .10);
  g_assert_cmpfloat_with_epsilon (male_of (&p, &in, 1), 1 / (1 + exp (-lo)), 1e-9);
  in = marked (5, 1, 8, CORE_SMALL_NOT, CORE_LAST_SMALL);
  g_assert_cmpfloat_with_epsilon (male_of (&p, &in, 1), 32.0 / 33, 1e-9);
  /* A picture of the back shows ten rings in both sexes. */
  in.reading.side = CORE_SIDE_BACK;
  CoreSexVerdict v = combine (&p, &in, 1);
  g_assert_cmpfloat (v.male, ==, .5);
  g_assert_cmpint (v.evidence[0].note, ==, CORE_WEIGHT_WRONG_SIDE);
  core_sex_verdict_clear (&v);
}

static void
test_copies (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in[12];
  for (int last = -1; last <= CORE_LAST_SMALL; last++)
    for (int count = 5; count <= 8; count++)
      {
        for (int i = 0; i < 12; i++)
          in[i] = marked (5, i + 1, count, CORE_SMALL_UNKNOWN, last);
        double one = male_of (&p, in, 1);
        for (size_t k = 2; k <= 12; k++)
          g_assert_cmpfloat_with_epsilon (male_of (&p, in, k), one, 1e-9);
        for (int i = 0; i < 12; i++)
          in[i].reading.photo = photo (1); /* marked again on one picture */
        g_assert_cmpfloat_with_epsilon (male_of (&p, in, 12), one, 1e-9);
      }
  /* The mean, never the stronger; the reading marked best counts alone. */
  in[0] = marked (5, 1, 8, CORE_SMALL_UNKNOWN, -1);
  in[1] = marked (5, 2, 6, CORE_SMALL_UNKNOWN, -1);
  double a = log (.91 / .12), b = log ((.05 + .01 / 3) / .86);
  g_assert_cmpfloat_with_epsilon (male_of (&p, in, 2), 1 / (1 + exp (-(a + b) / 2)), 1e-9);
  in[0].reading.best = true;
  g_assert_cmpfloat_with_epsilon (male_of (&p, in, 2), .91 / 1.03, 1e-9);
}

static void
test_stages_add (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in[3] = { marked (4, 1, 6, CORE_SMALL_NOT, -1), marked (5, 2, 6, CORE_SMALL_NOT, -1),
                         marked (6, 3, 6, CORE_SMALL_NOT, -1) };
  double one = log (.05 / .83);
  for (int n = 1; n <= 3; n++)
    {
      double lo = one * (1 + .5 * (n - 1));
      CoreSexVerdict v = combine (&p, in, (size_t) n);
      g_assert_cmpfloat_with_epsilon (v.male, 1 / (1 + exp (-lo)), 1e-9);
      g_assert_cmpint (v.verdict, ==,
                       n == 3 ? CORE_VERDICT_FIRM_FEMALE : CORE_VERDICT_LIKELY_FEMALE);
      g_assert_cmpint (v.provisional, ==, n < 3);
      core_sex_verdict_clear (&v);
    }
  /* Where sources disagree a count alone never goes beyond likely. */
  p.count_doubtful = true;
  CoreSexVerdict v = combine (&p, in, 3);
  g_assert_cmpfloat (v.female, >, .99);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_LIKELY_FEMALE);
  core_sex_verdict_clear (&v);
}

/* Words: from .99 only with a second kind from another view. */
static void
test_second_kind (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in[3] = { marked (5, 1, 6, CORE_SMALL_NOT, -1),
                         marked (5, 2, -1, CORE_SMALL_NOT, CORE_LAST_BOAT),
                         sexed (5, CORE_METHOD_CLAIM, CORE_SEX_FEMALE) };
  CoreSexVerdict v = combine (&p, in, 2);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_FIRM_FEMALE);
  core_sex_verdict_clear (&v);

  in[0] = marked (5, 1, 6, CORE_SMALL_NOT, CORE_LAST_BOAT); /* 32:1, both on one picture */
  in[1] = in[2];                                            /* and a claim: 96:1 */
  v = combine (&p, in, 2);
  g_assert_cmpfloat_with_epsilon (v.female, 96.0 / 97, 1e-9);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_LIKELY_FEMALE);
  g_assert_true (v.ask & CORE_ASK_SECOND_KIND);
  core_sex_verdict_clear (&v);

  p.male_prior = .2; /* even past .99 a claim is never the second kind */
  v = combine (&p, in, 2);
  g_assert_cmpfloat (v.female, >, .99);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_LIKELY_FEMALE);
  core_sex_verdict_clear (&v);
}

static void
test_settled (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in[3] = { sexed (8, CORE_METHOD_LAID, CORE_SEX_FEMALE),
                         sexed (8, CORE_METHOD_JOINED, CORE_SEX_FEMALE),
                         sexed (8, CORE_METHOD_JOINED, CORE_SEX_MALE) };
  CoreSexVerdict v = combine (&p, in, 1);
  g_assert_cmpfloat_with_epsilon (v.female, 1e4 / 10001, 1e-12);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_FIRM_FEMALE);
  core_sex_verdict_clear (&v);
  v = combine (&p, in, 2);
  g_assert_cmpfloat_with_epsilon (v.female, 1e4 / 10001, 1e-12); /* settled once */
  core_sex_verdict_clear (&v);
  v = combine (&p, in, 3);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_UNDECIDED);
  g_assert_true (v.conflict);
  g_assert_cmpfloat (v.male, ==, .5);
  core_sex_verdict_clear (&v);
}

static const struct
{
  int method;
  CoreSex sex;
  bool adult, parthenogenetic;
  double odds; /* for the sex named */
} SEXED[] = {
  { CORE_METHOD_COUNT, CORE_SEX_MALE, false, false, .91 / .12 },
  { CORE_METHOD_COUNT, CORE_SEX_FEMALE, false, false, .86 / (.05 + .01 / 3) },
  { CORE_METHOD_WINGS, CORE_SEX_MALE, true, false, 6 },
  { CORE_METHOD_WINGS, CORE_SEX_MALE, false, false, 1 },
  { CORE_METHOD_CUE, CORE_SEX_FEMALE, false, false, 1 }, /* the kind has no cue */
  { CORE_METHOD_BUILD, CORE_SEX_FEMALE, false, false, 2 },
  { CORE_METHOD_DESCENT, CORE_SEX_FEMALE, false, true, 200 },
  { CORE_METHOD_DESCENT, CORE_SEX_FEMALE, false, false, 1 },
  { CORE_METHOD_CLAIM, CORE_SEX_MALE, false, false, 3 },
  { CORE_METHOD_BUILD, CORE_SEX_UNKNOWN, false, false, 1 },
  { -1, CORE_SEX_FEMALE, false, false, 1 }, /* not said how */
};

static void
test_sexed (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (SEXED); i++)
    {
      CoreProfile p = profile_of (false);
      p.parthenogenetic = SEXED[i].parthenogenetic;
      CoreSexInput in = sexed (5, SEXED[i].method, SEXED[i].sex);
      in.adult = SEXED[i].adult;
      double named = SEXED[i].odds / (1 + SEXED[i].odds), male = male_of (&p, &in, 1);
      g_assert_cmpfloat_with_epsilon (SEXED[i].sex == CORE_SEX_FEMALE ? 1 - male : male, named,
                                      1e-9);
    }
}

/* A verdict never feeds itself: sexed steps back where marks of the stage exist. */
static void
test_steps_back (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in[2] = { marked (5, 1, 6, CORE_SMALL_UNKNOWN, -1),
                         sexed (5, CORE_METHOD_COUNT, CORE_SEX_FEMALE) };
  double alone = male_of (&p, in, 1);
  for (int method = CORE_METHOD_COUNT; method <= CORE_METHOD_BUILD; method++)
    {
      in[1].reading.method = method;
      in[1].reading.sex = method % 2 ? CORE_SEX_MALE : CORE_SEX_FEMALE;
      g_assert_cmpfloat_with_epsilon (male_of (&p, in, 2), alone, 1e-12);
    }
  in[1].reading.method = CORE_METHOD_CLAIM;
  in[1].reading.sex = CORE_SEX_FEMALE;
  g_assert_cmpfloat (male_of (&p, in, 2), <, alone);
  in[1] = sexed (6, CORE_METHOD_COUNT, CORE_SEX_FEMALE); /* after the next moult */
  g_assert_cmpfloat (male_of (&p, in, 2), <, alone);
}

/* The `sex` call: wings, cue and build are other views than the plates. */
static void
test_call (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in = marked (8, 0, 8, CORE_SMALL_NOT, CORE_LAST_SMALL);
  in.reading.photo = photo (0);
  in.from_call = in.adult = true;
  in.reading.wing_ratio = 1.2;
  in.reading.wing_sd = .02;
  CoreSexVerdict v = combine (&p, &in, 1);
  g_assert_cmpfloat_with_epsilon (v.male, 192.0 / 193, 1e-9);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_FIRM_MALE);
  core_sex_verdict_clear (&v);

  CoreSexInput both[2] = { in, sexed (8, CORE_METHOD_BUILD, CORE_SEX_MALE) };
  both[0].reading.wing_ratio = NAN;
  both[1].from_call = true;
  v = combine (&p, both, 2);
  g_assert_cmpfloat_with_epsilon (v.male, 64.0 / 65, 1e-9);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_LIKELY_MALE);
  core_sex_verdict_clear (&v);
}

static void
test_contradiction (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in[2] = { marked (5, 1, 8, CORE_SMALL_NOT, -1),
                         marked (5, 2, -1, CORE_SMALL_NOT, CORE_LAST_BOAT) };
  CoreSexVerdict v = combine (&p, in, 2);
  g_assert_true (v.conflict);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_UNDECIDED);
  g_assert_cmpuint (v.n, ==, 2);
  core_sex_verdict_clear (&v);
  v = combine (&p, in, 0);
  g_assert_cmpfloat (v.male, ==, .5);
  g_assert_false (v.conflict);
  core_sex_verdict_clear (&v);
}

/* Whatever one picture is said to show, it is never above .97. */
static void
test_simulation (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260301);
  for (int round = 0; round < 20000; round++)
    {
      CoreProfile p = profile_of (g_rand_boolean (rand));
      CoreSexInput in[3];
      size_t n = (size_t) g_rand_int_range (rand, 1, 4); /* entries on the same picture */
      for (size_t i = 0; i < n; i++)
        {
          in[i] = marked (g_rand_int_range (rand, 0, 9), 1, g_rand_int_range (rand, 3, 12),
                          g_rand_int_range (rand, 0, 3), g_rand_int_range (rand, -1, 3));
          in[i].moults_p[4] = g_rand_double (rand);
          in[i].reading.convention = g_rand_int_range (rand, 0, 3);
          in[i].reading.by_keeper = g_rand_boolean (rand);
          in[i].reading.likelihood[8] = g_rand_double (rand);
          in[i].adult = g_rand_boolean (rand);
          in[i].reading.best = g_rand_boolean (rand);
          in[i].reading.wing_ratio = g_rand_double_range (rand, .5, 1.5);
          in[i].reading.tegmen_pronotum = g_rand_double_range (rand, 1.5, 3.5);
          if (g_rand_boolean (rand))
            strcpy (in[i].reading.cue, "antennae");
          in[i].reading.cue_sex = (CoreSex) g_rand_int_range (rand, 0, 3);
        }
      CoreSexVerdict v = combine (&p, in, n);
      g_assert_cmpfloat (fmax (v.male, v.female), <=, .97);
      g_assert_true (v.provisional);
      core_sex_verdict_clear (&v);
    }
}

static void
test_wing_marks (void)
{
  CorePoint base = { 100, 100 }, abdomen = { 300, 100 }, tip = { 320, 130 };
  double ratio, sd, wide;
  g_assert_true (core_wing_ratio (base, tip, abdomen, 0, false, &ratio, &sd));
  g_assert_cmpfloat_with_epsilon (ratio, 1.1, 1e-12);
  /* 2 px on each of three marks of an axis of 200 px, to first order, and .02 for a flat view. */
  g_assert_cmpfloat_with_epsilon (sd, 2 * sqrt (1 + .01 + 1.21) / 200 + .02, 1e-12);
  g_assert_true (core_wing_ratio (base, tip, abdomen, 0, true, &ratio, &wide));
  g_assert_cmpfloat_with_epsilon (wide - sd, .04, 1e-12);
  g_assert_false (core_wing_ratio (base, tip, base, 0, false, &ratio, &sd));
  /* Wings that just pass the tip say nothing: 1.04, 800 px, marks to 1 %. */
  CorePoint far = { 900, 100 }, past = { 932, 100 };
  bool spans;
  g_assert_true (core_wing_ratio (base, past, far, 0, false, &ratio, &sd));
  g_assert_cmpfloat_with_epsilon (ratio, 1.04, 1e-12);
  g_assert_cmpfloat (core_wings_log_odds (ratio, sd, &spans), ==, 0);
  g_assert_true (spans);

  CorePoint front = { 0, 0 }, back = { 80, 0 };
  g_assert_true (core_tegmen_pronotum (base, abdomen, front, back, 2, &ratio, &sd));
  g_assert_cmpfloat_with_epsilon (ratio, 2.5, 1e-12);
  g_assert_cmpfloat_with_epsilon (sd, 2.5 * 2 * sqrt (2 / 40000.0 + 2 / 6400.0), 1e-12);
  g_assert_false (core_tegmen_pronotum (base, abdomen, front, front, 2, &ratio, &sd));
}

static void
test_state (void)
{
  CoreProfile p = profile_of (false);
  CoreState s;
  memset (&s, 0, sizeof s);
  CoreStage stages[2] = { { .start = CORE_START_HATCHED }, { .start = CORE_START_MOULTED } };
  CoreSexReading readings[2];
  CorePhotoRef photos[2] = { { .photo = photo (1), .hash = "ab" },
                             { .photo = photo (2), .hash = "ab" } };
  s.stages.v = stages;
  s.stages.n = 2;
  s.moults_p[3] = 1;
  readings[0] = marked (0, 1, 6, CORE_SMALL_NOT, -1).reading;
  readings[1] = marked (0, 2, -1, CORE_SMALL_NOT, CORE_LAST_BOAT).reading;
  readings[0].stage = readings[1].stage = 1;
  s.sex.v = readings;
  s.sex.n = 2;
  s.photos.v = photos;
  s.photos.n = 2;
  CoreSexVerdict v;
  /* The same file under two rows is one picture: 32:1, not firm. */
  g_assert_cmpint (core_sex_of_state (&p, &s, &v), ==, CORE_OK);
  g_assert_cmpfloat_with_epsilon (v.female, 32.0 / 33, 1e-9);
  core_sex_verdict_clear (&v);
  /* Read on the skin of the stage before (two moults): too early. */
  readings[0].stage = readings[1].stage = 0;
  g_assert_cmpint (core_sex_of_state (&p, &s, &v), ==, CORE_OK);
  g_assert_cmpfloat (v.male, ==, .5);
  g_assert_true (v.too_early);
  g_assert_cmpint (v.evidence[0].moults, ==, 2);
  core_sex_verdict_clear (&v);
}

/* The skin that was shed before the first stage known: no more moults than that stage less one,
 * and none of a hatchling, whose plates cannot be read. */
static void
test_shed_before_first (void)
{
  static const struct
  {
    int moults;
    bool early;
  } rows[] = { { 0, true }, { 3, true }, { 4, false } };

  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
    {
      CoreProfile p = profile_of (false);
      CoreState s;
      CoreStage stage = { .start = CORE_START_HATCHED };
      CoreSexReading reading = marked (0, 1, 6, CORE_SMALL_NOT, -1).reading;
      CoreSexVerdict v;

      memset (&s, 0, sizeof s);
      s.stages.v = &stage;
      s.stages.n = 1;
      s.moults_p[rows[i].moults] = 1;
      reading.stage = -1;
      reading.of_shed = true;
      reading.day = 100;
      s.sex.v = &reading;
      s.sex.n = 1;
      g_assert_cmpint (core_sex_of_state (&p, &s, &v), ==, CORE_OK);
      if (rows[i].early)
        g_assert_cmpfloat (v.female, ==, .5);
      else
        g_assert_cmpfloat (v.female, >, .9);
      g_assert_cmpint (v.evidence[0].moults, ==, MAX (0, rows[i].moults - 1));
      core_sex_verdict_clear (&v);
    }
}

/* What an earlier reading left open is not asked again once a later one answered it, and
 * nothing is asked of an entry that has no place for the answer. */
static void
test_ask_of_the_latest (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in[3] = { sexed (4, CORE_METHOD_COUNT, CORE_SEX_FEMALE),
                         marked (5, 1, 6, CORE_SMALL_NOT, CORE_LAST_UNCLEAR),
                         marked (3, 2, 6, CORE_SMALL_UNKNOWN, -1) };
  CoreSexVerdict v = combine (&p, in, 3);
  g_assert_false (v.ask & CORE_ASK_SMALL_PLATE);
  core_sex_verdict_clear (&v);
  v = combine (&p, in, 1);
  g_assert_false (v.ask & CORE_ASK_SMALL_PLATE);
  core_sex_verdict_clear (&v);
  in[1].reading.small_plate = CORE_SMALL_UNKNOWN;
  v = combine (&p, in, 3);
  g_assert_true (v.ask & CORE_ASK_SMALL_PLATE);
  core_sex_verdict_clear (&v);
  /* Eight with the small plate counted says little, but it is an answer. */
  in[1] = marked (5, 1, 8, CORE_SMALL_COUNTED, -1);
  in[2] = marked (4, 2, 8, CORE_SMALL_UNKNOWN, -1);
  v = combine (&p, in + 1, 2);
  g_assert_false (v.ask & CORE_ASK_SMALL_PLATE);
  core_sex_verdict_clear (&v);
  in[2] = marked (5, 2, 8, CORE_SMALL_UNKNOWN, -1);
  v = combine (&p, in + 1, 2);
  g_assert_false (v.ask & CORE_ASK_SMALL_PLATE);
  core_sex_verdict_clear (&v);
}

/* An adult waits for no moult, whatever stage was read before. */
static void
test_adult_now (void)
{
  CoreProfile p = profile_of (false);
  CoreState s;
  CoreStage stages[2] = { { .start = CORE_START_HATCHED }, { .start = CORE_START_MOULTED } };
  CoreSexReading reading = marked (0, 1, 6, CORE_SMALL_NOT, -1).reading;
  CoreSexVerdict v;
  memset (&s, 0, sizeof s);
  s.stages.v = stages;
  s.stages.n = 2;
  s.moults_p[3] = 1;
  for (int adult = 0; adult < 2; adult++)
    for (int read = 0; read < 2; read++)
      {
        s.adult = adult;
        s.adult_seen = 100;
        reading.stage = 0;
        s.sex.v = &reading;
        s.sex.n = (size_t) read;
        g_assert_cmpint (core_sex_of_state (&p, &s, &v), ==, CORE_OK);
        g_assert_cmpint ((v.ask & CORE_ASK_NEXT_STAGE) != 0, ==, !adult);
        g_assert_cmpint ((v.ask & CORE_ASK_WINGS) != 0, ==, adult);
        g_assert_cmpint (v.too_early, ==, read && !adult);
        core_sex_verdict_clear (&v);
      }
}

/* What the kind is not known to show says nothing, and makes nothing firm. */
static void
test_not_of_this_kind (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in = marked (5, 1, 6, CORE_SMALL_NOT, CORE_LAST_BOAT), bare;
  in.from_call = true;
  double alone = male_of (&p, &in, 1);
  strcpy (in.reading.cue, "crown");
  in.reading.cue_sex = CORE_SEX_FEMALE;
  CoreSexVerdict v = combine (&p, &in, 1);
  g_assert_cmpfloat_with_epsilon (v.male, alone, 1e-12);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_LIKELY_FEMALE);
  g_assert_cmpint (v.evidence[v.n - 1].note, ==, CORE_WEIGHT_NOT_THIS_KIND);
  core_sex_verdict_clear (&v);
  p.n_cues = 1;
  strcpy (p.cues[0].name, "crown");
  p.cues[0].sex = CORE_SEX_FEMALE;
  v = combine (&p, &in, 1);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_FIRM_FEMALE);
  core_sex_verdict_clear (&v);
  bare = sexed (5, CORE_METHOD_CUE, CORE_SEX_FEMALE); /* from life, the cue without its name */
  g_assert_cmpfloat_with_epsilon (male_of (&p, &bare, 1), .2, 1e-9);

  in = marked (5, 1, 6, CORE_SMALL_NOT, -1);
  in.reading.convention = CORE_CONVENTION_APPENDAGES;
  v = combine (&p, &in, 1);
  g_assert_cmpfloat (v.male, ==, .5);
  g_assert_cmpint (v.evidence[0].note, ==, CORE_WEIGHT_NOT_THIS_KIND);
  core_sex_verdict_clear (&v);
  p.general = true; /* not known: it may be an empusid */
  g_assert_cmpfloat_with_epsilon (male_of (&p, &in, 1), .78 / .88, 1e-9);
}

/* A sex named without a word on how is shown, and counts as nothing. */
static void
test_unsaid (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in = sexed (5, -1, CORE_SEX_FEMALE);
  CoreSexVerdict v = combine (&p, &in, 1);
  g_assert_cmpuint (v.n, ==, 1);
  g_assert_cmpint (v.evidence[0].kind, ==, CORE_EVIDENCE_UNSAID);
  g_assert_cmpint (v.evidence[0].note, ==, CORE_WEIGHT_NO_METHOD);
  g_assert_cmpfloat (v.male, ==, .5);
  core_sex_verdict_clear (&v);
}

static void
test_cue_names (void)
{
  CoreProfile p = profile_of (false);
  g_assert_true (core_sex_cue_known (&p, "crown"));
  g_assert_false (core_sex_cue_known (&p, "smile"));
  g_assert_false (core_sex_cue_known (&p, ""));
  p.n_cues = 1;
  strcpy (p.cues[0].name, "smile");
  g_assert_true (core_sex_cue_known (&p, "smile"));
  for (size_t i = 0; core_sex_cue_name (i); i++)
    g_assert_true (core_sex_cue_known (&p, core_sex_cue_name (i)));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/sex/counts", test_counts);
  g_test_add_func ("/sex/six-plates-two-moults-after-the-hatch", test_too_early);
  g_test_add_func ("/sex/stage-average", test_stage_average);
  g_test_add_func ("/sex/finder", test_finder);
  g_test_add_func ("/sex/empusid", test_empusid);
  g_test_add_func ("/sex/wings", test_wings);
  g_test_add_func ("/sex/one-picture", test_one_picture);
  g_test_add_func ("/sex/copies", test_copies);
  g_test_add_func ("/sex/stages-add", test_stages_add);
  g_test_add_func ("/sex/second-kind", test_second_kind);
  g_test_add_func ("/sex/settled", test_settled);
  g_test_add_func ("/sex/sexed", test_sexed);
  g_test_add_func ("/sex/steps-back", test_steps_back);
  g_test_add_func ("/sex/call", test_call);
  g_test_add_func ("/sex/contradiction", test_contradiction);
  g_test_add_func ("/sex/one-picture-never-sure", test_simulation);
  g_test_add_func ("/sex/wing-marks", test_wing_marks);
  g_test_add_func ("/sex/of-state", test_state);
  g_test_add_func ("/core/sex/ask-of-the-latest", test_ask_of_the_latest);
  g_test_add_func ("/sex/adult-now", test_adult_now);
  g_test_add_func ("/sex/shed-before-first", test_shed_before_first);
  g_test_add_func ("/core/sex/cue-names", test_cue_names);
  g_test_add_func ("/core/sex/not-of-this-kind", test_not_of_this_kind);
  g_test_add_func ("/core/sex/unsaid", test_unsaid);
  return g_test_run ();
}
