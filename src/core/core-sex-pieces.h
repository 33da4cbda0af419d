/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-sex-pieces.h — readings taken apart into single pieces of evidence. */
#pragma once

#include "core/core-sex.h"

typedef struct
{
  CoreEvidence evidence;
  int view;       /* pieces of one picture, or one look, share it */
  int stage;      /* equal = read in the same stage; larger = later */
  bool photo;     /* the view is a picture: capped as a whole */
  bool best;      /* the keeper marked this reading best */
  bool informs;   /* enters the mean of its kind and stage */
  unsigned ask;   /* what this reading leaves open */
} CoreSexPiece;

/* Most pieces that one reading can give. */
#define CORE_PIECES_PER_INPUT 5

/* Writes the pieces of all inputs to `out`, which has room for
 * n * CORE_PIECES_PER_INPUT. */
size_t core_sex_pieces (const CoreProfile *profile, const CoreSexInput *inputs, size_t n,
                        CoreSexPiece *out);
