/* SPDX-License-Identifier: GPL-3.0-or-later */
/* photo-later.c — see photo-later.h. The draft holds a line a picture: its first entry, and "left". */
#include "desk/photo-later.h"

#include <string.h>

#include "desk/desk-identity.h"
#include "desk/desk-private.h"

#define DRAFT "photos-to-count"
#define MOST 2000 /* lines: a draft may be damaged */

typedef struct
{
  CoreId first;
  gboolean left;
} Line;

static GArray *
read_lines (Desk *desk)
{
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (Line));
  g_autofree char *body = desk_draft_get (desk, DRAFT);
  g_auto (GStrv) texts = g_strsplit (body != NULL ? body : "", "\n", MOST);

  for (guint i = 0; texts[i] != NULL; i++)
    {
      g_auto (GStrv) words = g_strsplit (texts[i], " ", 2);
      Line line;

      if (words[0] == NULL || !core_id_from_text (words[0], &line.first))
        continue;
      line.left = words[1] != NULL && strcmp (words[1], "left") == 0;
      g_array_append_val (lines, line);
    }
  return lines;
}

static void
write_lines (Desk *desk, const GArray *lines)
{
  g_autoptr (GString) body = g_string_new (NULL);

  for (guint i = 0; i < lines->len; i++)
    {
      const Line *line = &g_array_index (lines, Line, i);
      char id[37];

      core_id_to_text (line->first, id);
      g_string_append_printf (body, "%s%s%s", i > 0 ? "\n" : "", id, line->left ? " left" : "");
    }
  desk_draft_set (desk, DRAFT, body->len > 0 ? body->str : NULL);
}

static int
find_line (const GArray *lines, CoreId first)
{
  for (guint i = 0; i < lines->len; i++)
    if (core_id_equal (g_array_index (lines, Line, i).first, first))
      return (int) i;
  return -1;
}

/* Those that still wait, with `left` as asked for. */
static void
gather (Desk *desk, const GArray *lines, gboolean left, GArray *out)
{
  for (guint i = 0; i < lines->len; i++)
    {
      const Line *line = &g_array_index (lines, Line, i);
      const CoreEntry *heir = line->left == left ? desk_entry_heir (desk, line->first) : NULL;
      PhotoLater one = { .left = left };

      if (heir == NULL || heir->kind != CORE_KIND_PHOTO || desk_mark_of (desk, heir->subject, line->first) != NULL)
        continue;
      one.photo = heir->id;
      one.subject = heir->subject;
      g_array_append_val (out, one);
    }
}

GArray *
photo_later_list (Desk *desk)
{
  g_autoptr (GArray) lines = read_lines (desk);
  GArray *out = g_array_new (FALSE, FALSE, sizeof (PhotoLater));

  gather (desk, lines, FALSE, out);
  gather (desk, lines, TRUE, out);
  return out;
}

/* What was counted since then is not carried on for ever. */
static void
drop_done (Desk *desk, GArray *lines)
{
  g_autoptr (GArray) waiting = photo_later_list (desk);

  g_array_set_size (lines, 0);
  for (guint i = 0; i < waiting->len; i++)
    {
      const PhotoLater *one = &g_array_index (waiting, PhotoLater, i);
      Line line = { desk_photo_first (desk, one->photo), one->left };

      g_array_append_val (lines, line);
    }
}

void
photo_later_add (Desk *desk, const CoreId *photos, guint n)
{
  g_autoptr (GArray) lines = read_lines (desk);

  drop_done (desk, lines);
  for (guint i = 0; i < n; i++)
    {
      Line line = { .first = desk_photo_first (desk, photos[i]) };

      if (find_line (lines, line.first) < 0 && lines->len < MOST)
        g_array_append_val (lines, line);
    }
  write_lines (desk, lines);
}

void
photo_later_leave (Desk *desk, CoreId photo)
{
  g_autoptr (GArray) lines = read_lines (desk);
  Line line = { .first = desk_photo_first (desk, photo), .left = TRUE };
  int at = find_line (lines, line.first);

  if (at >= 0)
    g_array_remove_index (lines, (guint) at);
  g_array_append_val (lines, line);
  write_lines (desk, lines);
}

void
photo_later_forget (Desk *desk, CoreId photo)
{
  g_autoptr (GArray) lines = read_lines (desk);
  int at = find_line (lines, desk_photo_first (desk, photo));

  if (at >= 0)
    g_array_remove_index (lines, (guint) at);
  write_lines (desk, lines);
}
