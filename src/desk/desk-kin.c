/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-kin.c — voices of animals, gathered by room.
 *
 * A changed animal only leaves its new voice waiting. Who asks in that room has it worked out
 * then, and all the others of the room stay as they are: so an entry costs what its own subject
 * costs. Invariant: `heard` of a voice is in the sums of exactly the rooms that it names. */
#include "desk/desk-kin.h"

#include <math.h>
#include <string.h>

#include "desk/desk-private.h"

struct _DeskVoice
{
  gatomicrefcount refs;
  DeskFold *fold;         /* owned */
  GPtrArray *places;      /* owned, DeskFold * */
  DeskProfiles *profiles; /* owned */
  const CoreProfile *profile;
  GMutex lock;
  DeskSaid *said; /* atomic; owned; NULL = not yet worked out */
};

/* ---- places ---- */

static const CoreState *
lookup (CoreId place, void *data)
{
  return desk_place_among (data, place);
}

static CoreId
room_of (const CoreState *state, gsize stage, GPtrArray *places)
{
  return core_room_of_stage (state, stage, lookup, places);
}

static gboolean
same_number (double a, double b)
{
  return a == b || (isnan (a) && isnan (b));
}

/* The same temperatures up to that day. */
static gboolean
same_air (const CorePlaceState *a, const CorePlaceState *b, CoreDay until)
{
  gsize i = 0;

  if (!core_id_equal (a->within, b->within) || !same_number (a->day_c, b->day_c) ||
      !same_number (a->night_c, b->night_c) || !same_number (a->light_h, b->light_h))
    return FALSE;
  for (;; i++)
    {
      const CoreReadingAt *x =
        i < a->readings.n && a->readings.v[i].day <= until ? &a->readings.v[i] : NULL;
      const CoreReadingAt *y =
        i < b->readings.n && b->readings.v[i].day <= until ? &b->readings.v[i] : NULL;

      if (x == NULL || y == NULL)
        return x == y;
      if (x->day != y->day || x->minute != y->minute || !same_number (x->t, y->t) ||
          x->inside != y->inside)
        return FALSE;
    }
}

/* ---- one voice ---- */

DeskVoice *
desk_voice_new (DeskFold *fold,
                GPtrArray *places,
                DeskProfiles *profiles,
                const CoreProfile *profile,
                DeskSaid *said)
{
  DeskVoice *self = g_new0 (DeskVoice, 1);

  g_atomic_ref_count_init (&self->refs);
  g_mutex_init (&self->lock);
  self->fold = desk_fold_ref (fold);
  self->places = g_ptr_array_ref (places);
  self->profiles = desk_profiles_ref (profiles);
  self->profile = profile;
  self->said = said;
  return self;
}

DeskVoice *
desk_voice_ref (DeskVoice *self)
{
  g_atomic_ref_count_inc (&self->refs);
  return self;
}

void
desk_voice_unref (DeskVoice *self)
{
  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  g_mutex_clear (&self->lock);
  g_free (self->said);
  g_ptr_array_unref (self->places);
  desk_profiles_unref (self->profiles);
  desk_fold_unref (self->fold);
  g_free (self);
}

static CoreDay
rests_until (const CoreState *state)
{
  return core_forecast_message_day (state, G_MAXINT32 / 2);
}

gboolean
desk_voice_rests_on (const DeskVoice *self, const DeskFold *fold, const GPtrArray *places)
{
  CoreDay until;

  if (self->fold != fold || self->places->len != places->len)
    return FALSE;
  until = rests_until (&fold->state);
  for (guint i = 0; i < places->len; i++)
    {
      const DeskFold *was = self->places->pdata[i], *is = places->pdata[i];

      if (was != is && (!core_id_equal (was->state.subject, is->state.subject) ||
                        !same_air (&was->state.place, &is->state.place, until)))
        return FALSE;
    }
  return TRUE;
}

static double
begins (const CoreState *state, CoreDay day)
{
  double first = day;

  for (gsize i = 0; i < state->stages.n; i++)
    {
      const CoreStage *stage = &state->stages.v[i];

      first = MIN (first, isfinite (stage->lo) ? stage->lo : stage->hi);
    }
  return floor (first) - 7;
}

/* What it says of one room: of the stages that began there. */
static void
say (const DeskVoice *self,
     const CoreForecastInput *all,
     const CoreId *rooms,
     gsize at,
     DeskSaid *out)
{
  CoreForecastInput input = *all;
  gsize n = all->state->stages.n;
  g_autofree bool *here = g_new0 (bool, n);
  double y, p;

  for (gsize i = 0; i < n; i++)
    {
      here[i] = core_id_equal (rooms[i], rooms[at]);
      if (here[i] && i > at)
        return; /* told already */
    }
  input.here = here;
  if (out->n == DESK_ROOMS || !core_forecast_message (&input, &y, &p))
    return;
  out->part[out->n].room = rooms[at];
  out->part[out->n].y = y;
  out->part[out->n++].p = p;
}

static DeskSaid *
work_out (const DeskVoice *self)
{
  const CoreState *state = &self->fold->state;
  CoreDay day = rests_until (state);
  DeskSaid *said = g_new0 (DeskSaid, 1);
  CoreWarmth warmth = { 0 };
  CoreForecastInput input = {
    .state = state, .profile = self->profile, .warmth = &warmth, .today = day, .p_male = .5
  };
  CoreSexVerdict verdict;
  g_autofree CoreId *rooms = NULL;

  if (day == CORE_DAY_NONE || state->stages.n == 0)
    return said;
  if (core_warmth_build (state, self->profile, lookup, self->places, (CoreDay) begins (state, day),
                         day, day + 31, &warmth) != CORE_OK)
    return said;
  if (core_sex_of_state (self->profile, state, &verdict) == CORE_OK)
    {
      input.p_male = verdict.male;
      core_sex_verdict_clear (&verdict);
    }
  rooms = g_new (CoreId, state->stages.n);
  for (gsize i = 0; i < state->stages.n; i++)
    rooms[i] = room_of (state, i, self->places);
  for (gsize i = state->stages.n; i-- > 0;)
    say (self, &input, rooms, i, said);
  core_warmth_clear (&warmth);
  return said;
}

const DeskSaid *
desk_voice_known (DeskVoice *self)
{
  return g_atomic_pointer_get (&self->said);
}

const DeskSaid *
desk_voice_said (DeskVoice *self)
{
  if (desk_voice_known (self) != NULL)
    return self->said;
  g_mutex_lock (&self->lock);
  if (self->said == NULL)
    g_atomic_pointer_set (&self->said, work_out (self));
  g_mutex_unlock (&self->lock);
  return self->said;
}

/* ---- all of them ---- */

typedef struct
{
  CoreRoom *room;      /* owned */
  gboolean changed;    /* what is heard in it, since somebody asked for that */
  GHashTable *heard;   /* CoreId of an animal → DeskVoice: in the sums */
  GHashTable *waiting; /* the same: not yet in them, or to be taken out */
} Room;

struct _DeskKin
{
  gatomicrefcount refs;
  GMutex lock;
  GHashTable *rooms;  /* CoreId → Room */
  GHashTable *voices; /* CoreId → DeskVoice: the latest of each */
};

static GHashTable *
voice_table (void)
{
  return g_hash_table_new_full (desk_id_hash, desk_id_equal, g_free,
                                (GDestroyNotify) desk_voice_unref);
}

static void
room_free (gpointer data)
{
  Room *self = data;

  core_room_free (self->room);
  g_hash_table_unref (self->heard);
  g_hash_table_unref (self->waiting);
  g_free (self);
}

DeskKin *
desk_kin_new (void)
{
  DeskKin *self = g_new0 (DeskKin, 1);

  g_atomic_ref_count_init (&self->refs);
  g_mutex_init (&self->lock);
  self->rooms = g_hash_table_new_full (desk_id_hash, desk_id_equal, g_free, room_free);
  self->voices = voice_table ();
  return self;
}

DeskKin *
desk_kin_ref (DeskKin *self)
{
  g_atomic_ref_count_inc (&self->refs);
  return self;
}

void
desk_kin_unref (DeskKin *self)
{
  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  g_hash_table_unref (self->rooms);
  g_hash_table_unref (self->voices);
  g_mutex_clear (&self->lock);
  g_free (self);
}

static Room *
room_for (DeskKin *self, CoreId id)
{
  Room *room = g_hash_table_lookup (self->rooms, &id);

  if (room != NULL)
    return room;
  room = g_new0 (Room, 1);
  room->room = core_room_new ();
  if (room->room == NULL)
    g_error ("out of memory while gathering a room");
  room->heard = voice_table ();
  room->waiting = voice_table ();
  g_hash_table_insert (self->rooms, desk_id_dup (id), room);
  return room;
}

static CoreId
id_of (const DeskVoice *voice)
{
  return voice->fold->state.subject;
}

/* In every room in which one of its stages began, of this voice and of the one before. */
static void
wait_in_rooms (DeskKin *self, const DeskVoice *rooms_of, DeskVoice *voice)
{
  const CoreState *state = &rooms_of->fold->state;
  CoreId last = { { 0 } };

  for (gsize i = 0; i < state->stages.n; i++)
    {
      CoreId id = room_of (state, i, rooms_of->places);

      if (i > 0 && core_id_equal (id, last))
        continue;
      last = id;
      g_hash_table_replace (room_for (self, id)->waiting, desk_id_dup (id_of (voice)),
                            desk_voice_ref (voice));
    }
}

void
desk_kin_put (DeskKin *self, DeskVoice *voice)
{
  CoreId id = id_of (voice);
  DeskVoice *before;

  g_mutex_lock (&self->lock);
  before = g_hash_table_lookup (self->voices, &id);
  if (before != voice)
    {
      if (before != NULL)
        wait_in_rooms (self, before, voice);
      wait_in_rooms (self, voice, voice);
      g_hash_table_replace (self->voices, desk_id_dup (id), desk_voice_ref (voice));
    }
  g_mutex_unlock (&self->lock);
}

/* ---- settling a room ---- */

static CoreId
lot_of_state (const CoreState *state)
{
  return state->kind == CORE_SUBJECT_LOT ? state->subject : state->lot;
}

static CoreId
lot_of (const DeskVoice *voice)
{
  return lot_of_state (&voice->fold->state);
}

/* Of a kind without a profile, by the name that was typed; what nobody knows speaks through what all
 * kinds of a room share. */
static guint64
kind_of (const CoreState *state, const CoreProfile *profile)
{
  return profile->general ? core_kind_mark (state->species) : 0;
}

static CoreVoice
voice_of (const CoreState *state, const CoreProfile *profile, double y, double p)
{
  CoreVoice self = core_voice (state->subject, lot_of_state (state), profile, y, p);

  self.kind = kind_of (state, profile);
  return self;
}

/* What it says in that room. */
static CoreVoice
part_in (DeskVoice *voice, CoreId room)
{
  const DeskSaid *said = desk_voice_said (voice);

  for (guint i = 0; i < said->n; i++)
    if (core_id_equal (said->part[i].room, room))
      return voice_of (&voice->fold->state, voice->profile, said->part[i].y, said->part[i].p);
  return voice_of (&voice->fold->state, voice->profile, 0, 0);
}

static gboolean
is_elsewhere (const DeskVoice *before, const DeskVoice *now)
{
  return before->profile != now->profile || !core_id_equal (lot_of (before), lot_of (now)) ||
         kind_of (&before->fold->state, before->profile) != kind_of (&now->fold->state, now->profile);
}

static void
put_in (Room *room, CoreId room_id, DeskVoice *voice)
{
  CoreId id = id_of (voice);
  DeskVoice *before = g_hash_table_lookup (room->heard, &id);
  CoreVoice what = part_in (voice, room_id);

  if (before != NULL && !is_elsewhere (before, voice))
    {
      CoreVoice was = part_in (before, room_id);

      room->changed = room->changed || was.y != what.y || was.p != what.p;
    }
  else
    room->changed = room->changed || before != NULL || what.p > 0;
  if (before != NULL && (what.p == 0 || is_elsewhere (before, voice)))
    core_room_take_out (room->room, id);
  if (what.p == 0)
    {
      g_hash_table_remove (room->heard, &id);
      return;
    }
  if (core_room_put (room->room, &what) != CORE_OK)
    g_error ("out of memory while gathering a room");
  g_hash_table_replace (room->heard, desk_id_dup (id), desk_voice_ref (voice));
}

static GPtrArray *
not_worked_out (Room *room, CoreId asking)
{
  GPtrArray *out = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_voice_unref);
  GHashTableIter iter;
  gpointer voice;

  g_hash_table_iter_init (&iter, room->waiting);
  while (g_hash_table_iter_next (&iter, NULL, &voice))
    if (desk_voice_known (voice) == NULL && !core_id_equal (id_of (voice), asking))
      g_ptr_array_add (out, desk_voice_ref (voice));
  return out;
}

/* Works out what is waiting, but for that one: who asks needs not hear itself. Several threads
 * share the work: each begins elsewhere in the list, and what one has done the others find. */
static void
work_out_waiting (DeskKin *self, Room *room, CoreId asking)
{
  static gint turn;

  for (;;)
    {
      g_autoptr (GPtrArray) voices = not_worked_out (room, asking);
      guint start = (guint) g_atomic_int_add (&turn, 7919);

      if (voices->len == 0)
        return;
      g_mutex_unlock (&self->lock);
      for (guint i = 0; i < voices->len; i++)
        desk_voice_said (voices->pdata[(start + i) % voices->len]);
      g_mutex_lock (&self->lock);
    }
}

/* What it said before is of another lot or species, and would be heard by itself. */
static void
forget_old_lot (Room *room, CoreId asking)
{
  DeskVoice *before = g_hash_table_lookup (room->heard, &asking);
  DeskVoice *now = g_hash_table_lookup (room->waiting, &asking);

  if (before == NULL || now == NULL || !is_elsewhere (before, now))
    return;
  core_room_take_out (room->room, asking);
  g_hash_table_remove (room->heard, &asking);
  room->changed = TRUE;
}

/* Of those that wait the ones that are worked out. */
static void
take_in (Room *room, CoreId id)
{
  GHashTableIter iter;
  gpointer voice;

  g_hash_table_iter_init (&iter, room->waiting);
  while (g_hash_table_iter_next (&iter, NULL, &voice))
    if (desk_voice_known (voice) != NULL)
      {
        put_in (room, id, voice);
        g_hash_table_iter_remove (&iter);
      }
}

static void
settle (DeskKin *self, CoreId id, CoreId asking)
{
  Room *room = room_for (self, id);

  work_out_waiting (self, room, asking);
  forget_old_lot (room, asking);
  take_in (room, id);
}

static CoreMessage
hear_in (DeskKin *self, CoreId room, const CoreState *state, const CoreProfile *profile)
{
  CoreVoice asking = voice_of (state, profile, 0, 0);

  settle (self, room, state->subject);
  return core_room_hear (room_for (self, room)->room, &asking, TRUE);
}

gboolean
desk_kin_hear (DeskKin *self,
               const DeskFold *fold,
               GPtrArray *places,
               const CoreProfile *profile,
               CoreMessage *elsewhere,
               DeskHeard *out)
{
  const CoreState *state = &fold->state;
  gsize n = state->stages.n;
  CoreId home = room_of (state, n > 0 ? n - 1 : 0, places);
  gboolean moved = FALSE;
  CoreVoice asking;

  g_mutex_lock (&self->lock);
  out->here = hear_in (self, home, state, profile);
  asking = voice_of (state, profile, 0, 0);
  out->alone = core_room_hear (room_for (self, home)->room, &asking, FALSE);
  out->elsewhere = 0;
  for (gsize i = 0; i < n; i++)
    {
      CoreId room = room_of (state, i, places);

      elsewhere[i] = (CoreMessage){ 0, 0 };
      if (core_id_equal (room, home))
        continue;
      moved = TRUE;
      elsewhere[i] = core_room_elsewhere (hear_in (self, room, state, profile), out->here, profile);
      out->elsewhere += (double) (i + 1) * (elsewhere[i].mean + 3 * elsewhere[i].sd);
    }
  g_mutex_unlock (&self->lock);
  return moved;
}

gboolean
desk_kin_changed (DeskKin *self)
{
  gboolean changed = FALSE;
  GHashTableIter iter;
  gpointer id, value;

  g_mutex_lock (&self->lock);
  g_hash_table_iter_init (&iter, self->rooms);
  while (g_hash_table_iter_next (&iter, &id, &value))
    {
      Room *room = value;

      take_in (room, *(CoreId *) id);
      changed = changed || room->changed;
      room->changed = FALSE;
    }
  g_mutex_unlock (&self->lock);
  return changed;
}
