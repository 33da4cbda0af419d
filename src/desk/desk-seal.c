/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-seal.c — the seal of a snapshot, and the key of this account that makes it.
 *
 * A journal may come from elsewhere, and what is computed from it lies in the
 * same file: only what this account sealed itself is read back into memory. The
 * key stands outside of any journal. */
#include "desk/desk-freeze.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/random.h>
#include <unistd.h>

/* ---- SipHash-1-3 ---- */

typedef struct
{
  guint64 v0, v1, v2, v3;
} Sip;

static inline guint64
turn (guint64 x, int by)
{
  return x << by | x >> (64 - by);
}

static inline void
sip_round (Sip *s)
{
  s->v0 += s->v1;
  s->v1 = turn (s->v1, 13) ^ s->v0;
  s->v0 = turn (s->v0, 32);
  s->v2 += s->v3;
  s->v3 = turn (s->v3, 16) ^ s->v2;
  s->v0 += s->v3;
  s->v3 = turn (s->v3, 21) ^ s->v0;
  s->v2 += s->v1;
  s->v1 = turn (s->v1, 17) ^ s->v2;
  s->v2 = turn (s->v2, 32);
}

static inline void
sip_word (Sip *s, guint64 word)
{
  s->v3 ^= word;
  sip_round (s);
  s->v0 ^= word;
}

guint64
desk_seal (const guint8 key[DESK_SEAL_KEY], guint64 part, gconstpointer data, gsize size)
{
  const guint8 *at = data, *end = at + size / 8 * 8;
  guint64 k[2], word;
  Sip s;

  memcpy (k, key, sizeof k);
  s = (Sip){ k[0] ^ G_GUINT64_CONSTANT (0x736f6d6570736575),
             k[1] ^ G_GUINT64_CONSTANT (0x646f72616e646f6d),
             k[0] ^ G_GUINT64_CONSTANT (0x6c7967656e657261),
             k[1] ^ G_GUINT64_CONSTANT (0x7465646279746573) };
  sip_word (&s, GUINT64_TO_LE (part));
  for (; at < end; at += 8)
    {
      memcpy (&word, at, 8);
      sip_word (&s, GUINT64_FROM_LE (word));
    }
  word = 0;
  memcpy (&word, at, size % 8);
  sip_word (&s, GUINT64_FROM_LE (word) | (guint64) (size + 8) << 56);
  s.v2 ^= 0xff;
  for (int i = 0; i < 3; i++)
    sip_round (&s);
  return s.v0 ^ s.v1 ^ s.v2 ^ s.v3;
}

/* ---- the key ---- */

static char *
key_path (void)
{
  return g_build_filename (g_get_user_data_dir (), "mantidary", "snapshot.key", NULL);
}

static gboolean
read_key (const char *path, guint8 out[DESK_SEAL_KEY])
{
  int fd = g_open (path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW, 0);
  gboolean ok;

  if (fd < 0)
    return FALSE;
  ok = read (fd, out, DESK_SEAL_KEY) == DESK_SEAL_KEY;
  close (fd);
  return ok;
}

/* Whole or not at all, and never in the place of another one. */
static gboolean
make_key (const char *path)
{
  g_autofree char *dir = g_path_get_dirname (path);
  g_autofree char *beside = g_strdup_printf ("%s-%d", path, (int) getpid ());
  guint8 key[DESK_SEAL_KEY];
  gboolean ok;
  int fd;

  if (g_mkdir_with_parents (dir, 0700) != 0 ||
      getrandom (key, sizeof key, 0) != (gssize) sizeof key)
    return FALSE;
  fd = g_open (beside, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
  if (fd < 0)
    return FALSE;
  ok = write (fd, key, sizeof key) == (gssize) sizeof key;
  ok = close (fd) == 0 && ok;
  if (ok && link (beside, path) != 0)
    ok = errno == EEXIST;
  g_unlink (beside);
  return ok;
}

gboolean
desk_seal_key (guint8 out[DESK_SEAL_KEY], gboolean make)
{
  g_autofree char *path = key_path ();

  return read_key (path, out) || (make && make_key (path) && read_key (path, out));
}
