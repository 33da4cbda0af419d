/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-sex-simulation.c — how often are the words "firm" and "likely" right?
 *
 * Invented animals are read as keepers read them: some stages, some pictures of each, slips, copies
 * of one picture, wings and cues of adults, a seller's word. The sex is a coin; every reading is
 * drawn from a table of its chances given the sex. Once the tables are those that the program reckons
 * with; once they are moderately wrong, and slips go on from picture to picture and from moult to
 * moult. What is asserted is what the program promises of its words.
 */
#include <glib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/core-sex-tables.h"
#include "core/core-sex.h"

#define ANIMALS 40000
#define MOST_INPUTS 24

/* The truth behind the readings. */
typedef struct
{
  double plates[2][7];     /* by sex (0 male), of 4 … 10 */
  double appendages[2][7];
  double last[2][3];       /* boat, small, unclear */
  double wings_right;      /* tip beyond the abdomen in a male, short of it in a female */
  double tegmen[2][2];     /* mean, sd */
  double cue_right, claim_right, antennae_right;
  double same_slip;        /* a picture repeats the count of the one before, right or wrong */
} World;

/* The odds of the program taken as the truth: 20:1, 6:1, 4:1, 3:1, 50:1. */
static World
as_reckoned (void)
{
  World w = { .last = { { .04, .80, .16 }, { .80, .04, .16 } },
              .wings_right = 6 / 7.,
              .tegmen = { { 2.55, .20 }, { 2.0, .25 } },
              .cue_right = 4 / 5.,
              .claim_right = 3 / 4.,
              .antennae_right = 50 / 51. };
  for (int sex = 0; sex < 2; sex++)
    for (int i = 0; i < 7; i++)
      {
        w.plates[sex][i] = core_plates_p (CORE_CONVENTION_PLATES, sex, i + 4);
        w.appendages[sex][i] = core_plates_p (CORE_CONVENTION_APPENDAGES, sex, i + 4);
      }
  return w;
}

/* Half as many again miscount, a boat is worth 10:1, wings 4:1, cues 2.5:1, sellers 2:1, antennae
 * 25:1, the normals lie half an sd nearer to each other, and a third of the counts of an animal
 * repeat the one before. */
static World
moderately_wrong (void)
{
  static const World w = {
    .plates = { { .005, .005, .08, .18, .68, .045, .005 }, { .01, .045, .745, .15, .03, .01, .01 } },
    .appendages = { { .015, .19, .68, .07, .015, .015, .015 }, { .045, .745, .15, .015, .015, .015, .015 } },
    .last = { { .072, .72, .208 }, { .72, .072, .208 } },
    .wings_right = 4 / 5.,
    .tegmen = { { 2.45, .22 }, { 2.12, .27 } },
    .cue_right = 2.5 / 3.5,
    .claim_right = 2 / 3.,
    .antennae_right = 25 / 26.,
    .same_slip = 1 / 3.,
  };
  return w;
}

typedef struct
{
  const World *world;
  GRand *rand;
  CoreProfile profile;
  CoreSexInput in[MOST_INPUTS];
  size_t n;
  int sex;    /* 0 male */
  int before; /* the last count, -1 none */
  int photo;
} Animal;

static int
draw (GRand *rand, const double *p, int n)
{
  double u = g_rand_double (rand);
  for (int i = 0; i < n - 1; i++)
    {
      u -= p[i];
      if (u < 0)
        return i;
    }
  return n - 1;
}

static CoreSex
said_by (Animal *a, double right)
{
  gboolean male = (a->sex == 0) == (g_rand_double (a->rand) < right);
  return male ? CORE_SEX_MALE : CORE_SEX_FEMALE;
}

static double
normal (GRand *rand)
{
  double u = 1 - g_rand_double (rand);
  return sqrt (-2 * log (u)) * cos (2 * G_PI * g_rand_double (rand));
}

static CoreSexInput *
add (Animal *a, CoreKind from, int moults)
{
  CoreSexInput *in = &a->in[a->n++];
  core_sex_input_init (in, from);
  core_sex_input_moults (in, moults);
  return in;
}

static CoreId
photo_id (int n)
{
  CoreId id = { { 0 } };
  id.b[14] = (uint8_t) (n >> 8);
  id.b[15] = (uint8_t) n;
  return id;
}

static void
picture (Animal *a, int moults)
{
  gboolean appendages = a->profile.empusid && g_rand_boolean (a->rand);
  const double *p = appendages ? a->world->appendages[a->sex] : a->world->plates[a->sex];
  gboolean repeats = a->before >= 0 && !a->profile.empusid && g_rand_double (a->rand) < a->world->same_slip;
  int count = repeats ? a->before : draw (a->rand, p, 7) + 4;
  CoreSexInput *in = add (a, CORE_KIND_MARKED, moults);
  in->reading.photo = photo_id (++a->photo);
  in->reading.side = CORE_SIDE_UNDERSIDE;
  in->reading.by_keeper = true;
  in->reading.convention = appendages ? CORE_CONVENTION_APPENDAGES : CORE_CONVENTION_PLATES;
  /* A keeper who counts the small plate says so; the table is of the others. */
  gboolean counted = !appendages && g_rand_double (a->rand) < .3;
  in->reading.count = count + counted;
  in->reading.small_plate = counted ? CORE_SMALL_COUNTED : CORE_SMALL_NOT;
  if (g_rand_boolean (a->rand))
    in->reading.last_plate = draw (a->rand, a->world->last[a->sex], 3);
  a->before = count;
  /* The same picture under another name. */
  if (g_rand_double (a->rand) < .2 && a->n < MOST_INPUTS - 4)
    {
      a->in[a->n] = *in;
      a->in[a->n++].reading.photo = photo_id (++a->photo);
    }
}

static void
as_adult (Animal *a, int moults)
{
  CoreSexInput *in = add (a, CORE_KIND_MARKED, moults);
  const double *tegmen = a->world->tegmen[a->sex];
  in->adult = true;
  in->reading.photo = photo_id (++a->photo);
  if (g_rand_boolean (a->rand))
    {
      in->reading.wing_ratio = said_by (a, a->world->wings_right) == CORE_SEX_MALE ? 1.12 : .88;
      in->reading.wing_sd = .03;
    }
  if (g_rand_boolean (a->rand))
    {
      in->reading.tegmen_pronotum = tegmen[0] + tegmen[1] * normal (a->rand);
      in->reading.tegmen_pronotum_sd = .03;
    }
  if (a->profile.empusid)
    {
      strcpy (in->reading.cue, "antennae");
      in->reading.cue_sex = said_by (a, a->world->antennae_right);
    }
}

static void
make (Animal *a, const World *world, GRand *rand)
{
  memset (a, 0, sizeof *a);
  a->world = world;
  a->rand = rand;
  a->before = -1;
  a->sex = g_rand_int_range (rand, 0, 2);
  a->profile = (CoreProfile){ .male_prior = .5, .readable_from = 3, .empusid = g_rand_double (rand) < .2,
                              .tp_mean = { 2.55, 2.0 }, .tp_sd = { .20, .25 },
                              .n_cues = 1 };
  strcpy (a->profile.cues[0].name, "crown");
  a->profile.cues[0].from_moults = 4;
  a->profile.cues[0].odds = 4;
  int first = g_rand_int_range (rand, 1, 6), stages = g_rand_int_range (rand, 1, 4);
  for (int m = first; m < first + stages; m++)
    for (int k = g_rand_int_range (rand, 1, 4); k > 0 && a->n < MOST_INPUTS - 6; k--)
      picture (a, m);
  if (g_rand_double (rand) < .3)
    as_adult (a, 8);
  if (g_rand_double (rand) < .2)
    {
      CoreSexInput *in = add (a, CORE_KIND_SEXED, first);
      in->reading.method = CORE_METHOD_CLAIM;
      in->reading.sex = said_by (a, world->claim_right);
    }
  if (g_rand_double (rand) < .2)
    {
      CoreSexInput *in = add (a, CORE_KIND_MARKED, first + stages - 1);
      in->reading.photo = photo_id (++a->photo);
      strcpy (in->reading.cue, "crown");
      in->reading.cue_sex = said_by (a, world->cue_right);
    }
}

typedef struct
{
  int firm, firm_right, likely, likely_right;
} Score;

static Score
score_of (const World *world, guint32 seed)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  g_autofree Animal *animal = g_new (Animal, 1);
  Score score = { 0 };
  for (int i = 0; i < ANIMALS; i++)
    {
      CoreSexVerdict v;
      make (animal, world, rand);
      g_assert_cmpint (core_sex_combine (&animal->profile, animal->in, animal->n, &v), ==, CORE_OK);
      int right = (v.male > .5) == (animal->sex == 0);
      if (v.verdict == CORE_VERDICT_FIRM_MALE || v.verdict == CORE_VERDICT_FIRM_FEMALE)
        {
          score.firm++;
          score.firm_right += right;
        }
      else if (v.verdict != CORE_VERDICT_UNDECIDED)
        {
          score.likely++;
          score.likely_right += right;
        }
      core_sex_verdict_clear (&v);
    }
  return score;
}

/* Right ones of all, after the odds of chance are taken off: three standard errors. */
static double
share (int right, int of)
{
  return (double) right / of;
}

static void
report (const char *what, const Score *s)
{
  g_test_message ("%s: firm %d of %d (%.2f %% right), likely %d of %d (%.2f %% right)", what, s->firm, ANIMALS,
                  100 * share (s->firm_right, s->firm), s->likely, ANIMALS,
                  100 * share (s->likely_right, s->likely));
}

static void
test_as_reckoned (void)
{
  World world = as_reckoned ();
  Score s = score_of (&world, 20260611);
  report ("tables as reckoned", &s);
  g_assert_cmpint (s.firm, >, ANIMALS / 10); /* a word that is never said is always right */
  g_assert_cmpint (s.likely, >, ANIMALS / 10);
  g_assert_cmpfloat (share (s.firm_right, s.firm), >=, .99);
  g_assert_cmpfloat (share (s.likely_right, s.likely), >=, .90);
}

static void
test_moderately_wrong (void)
{
  World world = moderately_wrong ();
  Score s = score_of (&world, 20260612);
  report ("tables moderately wrong", &s);
  g_assert_cmpint (s.firm, >, ANIMALS / 10);
  g_assert_cmpfloat (share (s.firm_right, s.firm), >=, .97);
}

/* Pictures of one stage that all show the same kind of evidence, whatever they show: together they
 * say no more than the strongest of them alone, unless the keeper marked one as best. */
static void
test_never_beyond_the_strongest (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260613);
  for (int round = 0; round < 20000; round++)
    {
      CoreProfile profile = { .male_prior = .5, .readable_from = 3, .empusid = g_rand_boolean (rand),
                              .tp_mean = { 2.55, 2.0 }, .tp_sd = { .20, .25 } };
      CoreSexInput in[8];
      size_t k = (size_t) g_rand_int_range (rand, 2, 9);
      int kind = g_rand_int_range (rand, 0, 3);
      double strongest = .5;
      for (size_t i = 0; i < k; i++)
        {
          CoreSexVerdict alone;
          core_sex_input_init (&in[i], CORE_KIND_MARKED);
          core_sex_input_moults (&in[i], 5);
          in[i].reading.photo = photo_id ((int) i + 1);
          if (kind == 0)
            {
              in[i].reading.count = g_rand_int_range (rand, 3, 12);
              in[i].reading.small_plate = g_rand_int_range (rand, 0, 3);
              in[i].reading.convention = g_rand_int_range (rand, 0, 3);
              in[i].reading.by_keeper = true;
            }
          else if (kind == 1)
            in[i].reading.last_plate = g_rand_int_range (rand, 0, 3);
          else
            for (int c = CORE_PLATES_MIN; c <= CORE_PLATES_MAX; c++)
              in[i].reading.likelihood[c] = pow (g_rand_double (rand), 4);
          g_assert_cmpint (core_sex_combine (&profile, &in[i], 1, &alone), ==, CORE_OK);
          strongest = fmax (strongest, fmax (alone.male, alone.female));
          core_sex_verdict_clear (&alone);
        }
      CoreSexVerdict all;
      g_assert_cmpint (core_sex_combine (&profile, in, k, &all), ==, CORE_OK);
      g_assert_cmpfloat (fmax (all.male, all.female), <=, strongest + 1e-12);
      g_assert_true (all.provisional);
      core_sex_verdict_clear (&all);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/sex/simulation/as-reckoned", test_as_reckoned);
  g_test_add_func ("/sex/simulation/moderately-wrong", test_moderately_wrong);
  g_test_add_func ("/sex/simulation/never-beyond-the-strongest", test_never_beyond_the_strongest);
  return g_test_run ();
}
