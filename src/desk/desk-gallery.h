/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-gallery.h — the pictures of an animal or of all, with what is known of each. */
#pragma once

#include "desk/desk.h"

typedef struct
{
  double x, y, width, height; /* pixels of the picture */
} DeskPart;

typedef struct
{
  CoreId subject;
  CoreId photo;   /* the live entry */
  CoreId first;   /* under which it was added: marks name it */
  CoreDay day;    /* that it shows: taken, else entered */
  gboolean dated; /* somebody or something said when it was taken */
  WordsShown shows;
  int plates;     /* counted by the keeper; -1 = not counted */
  int width, height;
  double px_per_mm; /* NAN = no scale is known */
  double scale_sd;  /* of px_per_mm, as a share of it */
  DeskPart part;    /* round the marks, where a scale is known */
} DeskPicture;

/* For order and comparison: moults since the hatch, then adult, then unknown. */
int desk_picture_stage (const DeskPicture *picture);
/* `subject` none: of all, also of those that have ended. By number, stage and day. */
GArray *desk_gallery (Desk *self, CoreId subject);
/* The index of a photo, by any of its entries; -1 = it is not there. */
int desk_gallery_find (Desk *self, const GArray *pictures, CoreId photo);
/* One of each stage of one animal of which a scale is known, youngest first: the sharpest scale of
 * those of the live animal. Indexes into `pictures` (guint). */
GArray *desk_gallery_growth (const GArray *pictures);
