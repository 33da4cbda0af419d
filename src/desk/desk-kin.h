/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-kin.h — what the animals of a room and a lot tell of each other's pace, kept between
 * forecasts.
 *
 * A voice is what one animal's own moults say; it rests on its entries, its places and its
 * profile, and is worked out once, when somebody first wants to hear it. Any thread may ask. */
#pragma once

#include "core/core-room.h"
#include "desk/desk-collection.h"

/* One animal in so many rooms at most; of more the last ones. */
#define DESK_ROOMS 4

typedef struct
{
  guint n;
  struct
  {
    CoreId room; /* none = the journal */
    double y, p;
  } part[DESK_ROOMS]; /* of rooms in which it says something */
} DeskSaid;

/* What a forecast was given by others. */
typedef struct
{
  CoreMessage here;
  CoreMessage alone; /* the same without lot-mates: for reasons, moves no day */
  double elsewhere; /* of the messages for stages begun in other rooms: differs where these do */
} DeskHeard;

typedef struct _DeskVoice DeskVoice; /* immutable but for being worked out; counted atomically */
typedef struct _DeskKin DeskKin;     /* shared by a desk and its subjects; has a lock of its own */

/* Takes `said`: as an earlier run worked it out from the same, or NULL. */
DeskVoice *desk_voice_new (DeskFold *fold,
                           GPtrArray *places,
                           DeskProfiles *profiles,
                           const CoreProfile *profile,
                           DeskSaid *said);
DeskVoice *desk_voice_ref (DeskVoice *self);
void desk_voice_unref (DeskVoice *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskVoice, desk_voice_unref)
/* The same can be said of these: another fold, or places with other temperatures then, may tell
 * another thing. */
gboolean
desk_voice_rests_on (const DeskVoice *self, const DeskFold *fold, const GPtrArray *places);
const DeskSaid *desk_voice_said (DeskVoice *self);
const DeskSaid *desk_voice_known (DeskVoice *self); /* NULL = not yet worked out */

DeskKin *desk_kin_new (void);
DeskKin *desk_kin_ref (DeskKin *self);
void desk_kin_unref (DeskKin *self);
void desk_kin_put (DeskKin *self, DeskVoice *voice);

/* What others tell one of this state; `elsewhere` gets a message for each stage and TRUE is
 * returned where some began in another room than the one in progress. */
gboolean desk_kin_hear (DeskKin *self,
                        const DeskFold *fold,
                        GPtrArray *places,
                        const CoreProfile *profile,
                        CoreMessage *elsewhere,
                        DeskHeard *out);
/* Takes in what has been worked out. TRUE: somewhere another thing may be heard than when this was
 * asked last. */
gboolean desk_kin_changed (DeskKin *self);
