/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-room.c — messages between animals, lots and a room: against the normal law itself, worked
 * out with matrices, and what may not change them. */
#include <glib.h>
#include <math.h>

#include "core/core-room.h"

#define MOST 12

/* Hand-made animals of one room: of which lot and kind, and what they say. */
typedef struct
{
  int kind, lot; /* lot 0 = of none */
  double y, p;
} Said;

static CoreProfile kinds[2];

static CoreId
id_of (int n)
{
  CoreId id = { { 0 } };

  id.b[0] = (uint8_t) (n >> 8);
  id.b[15] = (uint8_t) n;
  return id;
}

static CoreId
lot_id (int lot)
{
  return lot == 0 ? (CoreId){ { 0 } } : id_of (1000 + lot);
}

static void
make_kinds (void)
{
  for (int k = 0; k < 2; k++)
    {
      core_profile_init (&kinds[k]);
      g_snprintf (kinds[k].id, sizeof kinds[k].id, "kind-%d", k);
      kinds[k].general = false;
    }
}

static CoreRoom *
make_room (const Said *said, int n, const int *order)
{
  CoreRoom *room = core_room_new ();

  for (int i = 0; i < n; i++)
    {
      const Said *one = &said[order != NULL ? order[i] : i];
      int at = (int) (one - said);
      CoreVoice voice = { id_of (at + 1), lot_id (one->lot), &kinds[one->kind], one->y, one->p };

      g_assert_cmpint (core_room_put (room, &voice), ==, CORE_OK);
    }
  return room;
}

/* What one has of another: the covariance of two sums rho + lambda. */
static double
shared (const Said *a, const Said *b, gboolean same_animal)
{
  double rho = .18 * .18, lambda = .10 * .10, medians = .15 * .15;
  double sum = .6 * rho;

  if (a->kind == b->kind)
    sum += .4 * rho + medians;
  if (same_animal || (a->kind == b->kind && a->lot == b->lot && a->lot != 0))
    sum += lambda;
  return sum;
}

/* Conditional mean and variance of rho + lambda of `asking` given what the others say, by
 * elimination (Gauss): E = c' S^-1 y, V = v - c' S^-1 c. */
static CoreMessage
exact (const Said *said, int n, int asking)
{
  double m[MOST][MOST + 2] = { { 0 } }, c[MOST];
  double mean = 0, var = shared (&said[asking], &said[asking], TRUE);
  int who[MOST], others = 0;

  for (int i = 0; i < n; i++)
    if (i != asking && said[i].p > 0)
      who[others++] = i;
  for (int i = 0; i < others; i++)
    {
      const Said *a = &said[who[i]];

      for (int j = 0; j < others; j++)
        m[i][j] = shared (a, &said[who[j]], i == j) + (i == j ? .10 * .10 + 1 / a->p : 0);
      m[i][others] = a->y;
      m[i][others + 1] = c[i] = shared (a, &said[asking], FALSE);
    }
  for (int i = 0; i < others; i++)
    for (int k = 0; k < others; k++)
      if (k != i)
        {
          double f = m[k][i] / m[i][i];
          for (int j = i; j < others + 2; j++)
            m[k][j] -= f * m[i][j];
        }
  for (int i = 0; i < others; i++)
    {
      mean += c[i] * m[i][others] / m[i][i];
      var -= c[i] * m[i][others + 1] / m[i][i];
    }
  return (CoreMessage){ mean, sqrt (var) };
}

static const Said crowd[] = { { 0, 1, .30, 40 },  { 0, 1, .22, 25 }, { 0, 1, .41, 90 },
                              { 0, 2, -.05, 60 }, { 0, 2, .10, 8 },  { 0, 0, .18, 50 },
                              { 1, 0, .25, 30 },  { 1, 3, .15, 70 }, { 1, 3, .02, 20 },
                              { 0, 0, 0, 0 } };

/* The tree is what the normal law says, to the steps in which messages are told. */
static void
test_exact (void)
{
  CoreRoom *room = make_room (crowd, G_N_ELEMENTS (crowd), NULL);
  double step = .02 * sqrt (.18 * .18 + .15 * .15 + .10 * .10);

  for (int i = 0; i < (int) G_N_ELEMENTS (crowd); i++)
    {
      CoreMessage told =
        core_room_message (room, id_of (i + 1), lot_id (crowd[i].lot), &kinds[crowd[i].kind]);
      CoreMessage want = exact (crowd, G_N_ELEMENTS (crowd), i);

      g_assert_cmpfloat_with_epsilon (told.mean, want.mean, .5 * step + 1e-9);
      g_assert_cmpfloat_with_epsilon (told.sd, want.sd, .5 * step + 1e-9);
    }
  core_room_free (room);
}

/* In whatever order they came, also after other things were said: the same bits. */
static void
test_order (void)
{
  int order[G_N_ELEMENTS (crowd)];
  CoreRoom *first = make_room (crowd, G_N_ELEMENTS (crowd), NULL);

  for (int turn = 0; turn < 50; turn++)
    {
      CoreRoom *room;
      CoreVoice other = { id_of (3), lot_id (1), &kinds[0], .9, 3 };

      for (int i = 0; i < (int) G_N_ELEMENTS (order); i++)
        {
          int j = g_random_int_range (0, i + 1);

          order[i] = order[j];
          order[j] = i;
        }
      room = make_room (crowd, G_N_ELEMENTS (crowd), order);
      core_room_put (room, &other);
      core_room_message (room, id_of (1), lot_id (1), &kinds[0]);
      other.y = crowd[2].y;
      other.p = crowd[2].p;
      core_room_put (room, &other);
      for (int i = 0; i < (int) G_N_ELEMENTS (crowd); i++)
        {
          CoreMessage a =
            core_room_message (first, id_of (i + 1), lot_id (crowd[i].lot), &kinds[crowd[i].kind]);
          CoreMessage b =
            core_room_message (room, id_of (i + 1), lot_id (crowd[i].lot), &kinds[crowd[i].kind]);

          g_assert_true (a.mean == b.mean && a.sd == b.sd);
        }
      core_room_free (room);
    }
  core_room_free (first);
}

/* Alone it hears nothing, whatever it says itself; taken out, the others hear nothing of it. */
static void
test_own_voice (void)
{
  static const Said two[] = { { 0, 1, .6, 200 }, { 0, 1, 0, 0 } };
  CoreRoom *room = make_room (two, 2, NULL);
  CoreMessage alone = core_room_message (room, id_of (1), lot_id (1), &kinds[0]);
  CoreMessage other = core_room_message (room, id_of (2), lot_id (1), &kinds[0]);
  CoreMessage neutral = core_room_neutral (&kinds[0]);

  g_assert_cmpfloat (alone.mean, ==, 0);
  g_assert_cmpfloat_with_epsilon (alone.sd, neutral.sd, 1e-9);
  g_assert_cmpfloat (other.mean, >, .3);
  g_assert_cmpfloat (other.sd, <, neutral.sd);
  core_room_take_out (room, id_of (1));
  other = core_room_message (room, id_of (2), lot_id (1), &kinds[0]);
  g_assert_cmpfloat (other.mean, ==, 0);
  core_room_free (room);
}

/* A hundred of one lot are one lot: they tell of it all, and of the room little more than ten. */
static void
test_not_overconfident (void)
{
  CoreMessage told[2], mate;

  for (int k = 0; k < 2; k++)
    {
      int n = k == 0 ? 10 : 400;
      CoreRoom *room = core_room_new ();

      for (int i = 0; i < n; i++)
        {
          CoreVoice voice = { id_of (i + 1), lot_id (1), &kinds[0], .3, 30 };
          core_room_put (room, &voice);
        }
      told[k] = core_room_message (room, id_of (2000), lot_id (0), &kinds[0]);
      mate = core_room_message (room, id_of (2000), lot_id (1), &kinds[0]);
      core_room_free (room);
    }
  g_assert_cmpfloat (told[1].sd, >, .9 * told[0].sd);
  g_assert_cmpfloat (told[1].mean, <, .26);
  g_assert_cmpfloat_with_epsilon (mate.mean, .3, .01);
  g_assert_cmpfloat (mate.sd, <, .02);
}

/* Kinds without a profile: those of one name tell each other as a kind does; of one that nobody knows
 * only what all kinds of a room share is heard, and by its lot-mates. */
static void
test_named_kinds (void)
{
  static const char *const names[] = { "Miomantis caffra", " miomantis Caffra", "Popa spurca", "", "" };
  CoreProfile general = kinds[0];
  CoreRoom *room = core_room_new ();
  double mean[G_N_ELEMENTS (names)];

  general.general = true;
  g_strlcpy (general.id, "general", sizeof general.id);
  for (int i = 0; i < 3; i++)
    {
      CoreVoice voice = core_voice (id_of (i + 1), lot_id (0), &general, .4, 60);

      voice.kind = core_kind_mark (names[0]);
      g_assert_cmpint (core_room_put (room, &voice), ==, CORE_OK);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      CoreVoice asking = core_voice (id_of (100 + (int) i), lot_id (0), &general, 0, 0);

      asking.kind = core_kind_mark (names[i]);
      mean[i] = core_room_hear (room, &asking, true).mean;
    }
  g_assert_cmpfloat (mean[0], ==, mean[1]);
  g_assert_cmpfloat (mean[0], >, .2);
  g_assert_cmpfloat (mean[2], >, .02);
  g_assert_cmpfloat (mean[2], <, .6 * mean[0]);
  g_assert_cmpfloat (mean[3], ==, mean[2]); /* what it is nobody knows: it may be any other */
  for (int i = 0; i < 2; i++) /* two of one lot of an unknown kind, and one beside them */
    {
      CoreVoice voice = core_voice (id_of (200 + i), lot_id (7), &general, -.5, 80);

      g_assert_cmpint (core_room_put (room, &voice), ==, CORE_OK);
    }
  mean[3] = core_room_message (room, id_of (300), lot_id (7), &general).mean;
  mean[4] = core_room_message (room, id_of (300), lot_id (0), &general).mean;
  g_assert_cmpfloat (mean[3], <, mean[4] - .2);
  g_assert_cmpuint (core_kind_mark (""), ==, 0);
  g_assert_cmpuint (core_kind_mark ("  "), ==, 0);
  core_room_free (room);
}

/* A voice is told in steps, so that what is computed anew says the same. */
static void
test_steps (void)
{
  CoreVoice a = core_voice (id_of (1), lot_id (0), &kinds[0], .12345678, 33.3);
  CoreVoice b = core_voice (id_of (1), lot_id (0), &kinds[0], .12345678 + 1e-7, 33.3 * 1.00001);
  CoreVoice none = core_voice (id_of (1), lot_id (0), &kinds[0], NAN, INFINITY);

  g_assert_true (a.y == b.y && a.p == b.p);
  g_assert_cmpfloat_with_epsilon (a.y, .12345678, .0025);
  g_assert_cmpfloat_with_epsilon (a.p / 33.3, 1, .025);
  g_assert_cmpfloat (none.p, ==, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  make_kinds ();
  g_test_add_func ("/core/room/exact", test_exact);
  g_test_add_func ("/core/room/order", test_order);
  g_test_add_func ("/core/room/own-voice", test_own_voice);
  g_test_add_func ("/core/room/not-overconfident", test_not_overconfident);
  g_test_add_func ("/core/room/steps", test_steps);
  g_test_add_func ("/core/room/named-kinds", test_named_kinds);
  return g_test_run ();
}
