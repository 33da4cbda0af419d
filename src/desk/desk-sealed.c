/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-sealed.c — the file beside a journal: head, blocks, the seals of all blocks.
 *
 * The seal of the head is over the head, the seals of the blocks and what the
 * file is a snapshot of; each block bears its seal with its number. So every
 * byte is under a seal of this account, and of another one's nothing is read
 * but the head. The file is replaced as a whole, never written into. */
#include "desk/desk-sealed.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

#define MAGIC G_GUINT64_CONSTANT (0x32736b656473746d) /* another form, another number */
#define BLOCK (1 << 17)                               /* bytes under one seal */
#define MOST ((guint64) 1 << 34)                      /* bytes; no journal comes near */
#define HUGE ((gsize) 1 << 21)                        /* a large page of memory */

struct _DeskSlab
{
  gatomicrefcount refs;
  guint8 *bytes;
  gsize size, mapped;
};

typedef struct
{
  guint64 magic;
  guint64 seal; /* of all behind it */
  guint64 size; /* of the bytes */
  guint64 count;
  gint64 last_seq;
  CoreId xor_ids;
} Head;

/* ---- bytes in memory ---- */

DeskSlab *
desk_slab_new (gsize size)
{
  DeskSlab *self = g_new0 (DeskSlab, 1);

  g_atomic_ref_count_init (&self->refs);
  self->size = size;
  self->mapped = (MAX (size, 1) + HUGE - 1) / HUGE * HUGE;
  self->bytes =
    mmap (NULL, self->mapped, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (self->bytes == MAP_FAILED)
    g_error ("out of memory");
  (void) madvise (self->bytes, self->mapped, MADV_HUGEPAGE); /* a matter of speed alone */
  return self;
}

DeskSlab *
desk_slab_ref (DeskSlab *self)
{
  g_atomic_ref_count_inc (&self->refs);
  return self;
}

void
desk_slab_unref (DeskSlab *self)
{
  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  munmap (self->bytes, self->mapped);
  g_free (self);
}

guint8 *
desk_slab_bytes (DeskSlab *self)
{
  return self->bytes;
}

gsize
desk_slab_size (DeskSlab *self)
{
  return self->size;
}

/* ---- both ways ---- */

static gsize
n_blocks (guint64 size)
{
  return (gsize) ((size + BLOCK - 1) / BLOCK);
}

/* What belongs to this file alone: a block of another one does not bear its seals. */
static guint64
tie_of (const guint8 key[DESK_SEAL_KEY], const StoreTotals *totals, const char *name)
{
  g_autoptr (GByteArray) text = g_byte_array_new ();

  desk_freeze_number (text, totals->count);
  desk_freeze_number (text, (guint64) totals->last_seq);
  desk_freeze_id (text, totals->xor_ids);
  desk_freeze_text (text, name);
  return desk_seal (key, 0, text->data, text->len);
}

static guint64
seal_of_head (const guint8 key[DESK_SEAL_KEY], guint64 tie, const Head *head, const guint64 *seals)
{
  g_autoptr (GByteArray) all = g_byte_array_new ();

  desk_freeze_raw (all, &head->size, sizeof *head - G_STRUCT_OFFSET (Head, size));
  desk_freeze_raw (all, seals, n_blocks (head->size) * sizeof *seals);
  return desk_seal (key, tie, all->data, all->len);
}

static guint64
seal_of_block (const guint8 key[DESK_SEAL_KEY], guint64 tie, gsize i, gconstpointer bytes, gsize n)
{
  return desk_seal (key, tie + 1 + i, bytes, n);
}

static gboolean
read_all (int fd, gpointer to, gsize size, guint64 at)
{
  guint8 *bytes = to;

  while (size > 0)
    {
      gssize n = pread (fd, bytes, size, (off_t) at);

      if (n < 0 && errno == EINTR)
        continue;
      if (n <= 0)
        return FALSE;
      bytes += n;
      size -= (gsize) n;
      at += (guint64) n;
    }
  return TRUE;
}

static gboolean
write_all (int fd, gconstpointer from, gsize size, guint64 at)
{
  const guint8 *bytes = from;

  while (size > 0)
    {
      gssize n = pwrite (fd, bytes, size, (off_t) at);

      if (n < 0 && errno == EINTR)
        continue;
      if (n <= 0)
        return FALSE;
      bytes += n;
      size -= (gsize) n;
      at += (guint64) n;
    }
  return TRUE;
}

/* ---- reading ---- */

void
desk_sealed_clear (DeskSealed *self)
{
  if (self->fd >= 0)
    close (self->fd);
  self->fd = -1;
  g_clear_pointer (&self->seals, g_free);
}

static gboolean
read_head (DeskSealed *self, const char *name)
{
  struct stat st;
  Head head;

  if (fstat (self->fd, &st) != 0 || !S_ISREG (st.st_mode) ||
      !read_all (self->fd, &head, sizeof head, 0) || head.magic != MAGIC || head.size > MOST ||
      (guint64) st.st_size != sizeof head + head.size + n_blocks (head.size) * sizeof (guint64))
    return FALSE;
  self->size = head.size;
  self->totals = (StoreTotals){ head.count, head.last_seq, head.xor_ids };
  self->tie = tie_of (self->key, &self->totals, name);
  self->seals = g_new (guint64, n_blocks (head.size) + 1);
  return read_all (self->fd, self->seals, n_blocks (head.size) * sizeof (guint64),
                   sizeof head + head.size) &&
         head.seal == seal_of_head (self->key, self->tie, &head, self->seals);
}

gboolean
desk_sealed_find (DeskSealed *self, const char *dir, const char *name)
{
  g_autofree char *path = g_build_filename (dir, DESK_SEALED_NAME, NULL);

  *self = (DeskSealed){ .fd = -1 };
  if (!desk_seal_key (self->key, FALSE))
    return FALSE;
  self->fd = g_open (path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK, 0);
  if (self->fd >= 0 && read_head (self, name))
    return TRUE;
  desk_sealed_clear (self);
  return FALSE;
}

DeskSlab *
desk_sealed_read (DeskSealed *self)
{
  g_autoptr (DeskSlab) slab = desk_slab_new ((gsize) self->size);

  for (gsize i = 0; i < n_blocks (self->size); i++)
    {
      guint64 at = (guint64) i * BLOCK;
      gsize n = (gsize) MIN (self->size - at, BLOCK);

      if (!read_all (self->fd, slab->bytes + at, n, sizeof (Head) + at) ||
          seal_of_block (self->key, self->tie, i, slab->bytes + at, n) != self->seals[i])
        return NULL;
    }
  return g_steal_pointer (&slab);
}

/* ---- writing ---- */

typedef struct
{
  int fd;
  const guint8 *key;
  Head head;
  guint64 tie;
  GByteArray *rest;
  GArray *seals; /* guint64 */
} Writing;

static gboolean
write_block (Writing *self, gsize n)
{
  guint64 seal = seal_of_block (self->key, self->tie, self->seals->len, self->rest->data, n);

  if (!write_all (self->fd, self->rest->data, n, sizeof self->head + self->head.size))
    return FALSE;
  g_array_append_val (self->seals, seal);
  self->head.size += n;
  g_byte_array_remove_range (self->rest, 0, (guint) n);
  return TRUE;
}

static gboolean
write_blocks (Writing *self, DeskSealedMore more, gpointer data)
{
  gboolean any = TRUE;

  while (any)
    {
      any = more (self->rest, data);
      while (self->rest->len >= BLOCK || (!any && self->rest->len > 0))
        if (!write_block (self, MIN (self->rest->len, BLOCK)))
          return FALSE;
    }
  return TRUE;
}

/* The head last: what was cut off has none. */
static gboolean
write_file (int fd,
            const char *name,
            const guint8 key[DESK_SEAL_KEY],
            const StoreTotals *totals,
            DeskSealedMore more,
            gpointer data)
{
  g_autoptr (GByteArray) rest = g_byte_array_new ();
  g_autoptr (GArray) seals = g_array_new (FALSE, FALSE, sizeof (guint64));
  Writing self = { .fd = fd, .key = key, .rest = rest, .seals = seals };

  self.head = (Head){ .magic = MAGIC,
                      .count = totals->count,
                      .last_seq = totals->last_seq,
                      .xor_ids = totals->xor_ids };
  self.tie = tie_of (key, totals, name);
  if (!write_blocks (&self, more, data) ||
      !write_all (fd, seals->data, seals->len * sizeof (guint64),
                  sizeof self.head + self.head.size))
    return FALSE;
  self.head.seal =
    seal_of_head (key, self.tie, &self.head, (const guint64 *) (const void *) seals->data);
  return write_all (fd, &self.head, sizeof self.head, 0);
}

/* The file is ours alone while it is locked and still of this name. -1: it is another's. */
static int
open_beside (const char *path)
{
  int fd = g_open (path, O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK, 0600);
  struct stat mine, named;

  if (fd < 0)
    return -1;
  errno = EWOULDBLOCK;
  if (flock (fd, LOCK_EX | LOCK_NB) == 0 && fstat (fd, &mine) == 0 && S_ISREG (mine.st_mode) &&
      lstat (path, &named) == 0 && mine.st_ino == named.st_ino && mine.st_dev == named.st_dev &&
      ftruncate (fd, 0) == 0)
    return fd;
  close (fd);
  return -1;
}

/* Not synced: one that a failing machine has cut off bears no seal, and is not used. */
gboolean
desk_sealed_write (const char *dir,
                   const char *name,
                   const guint8 key[DESK_SEAL_KEY],
                   const StoreTotals *totals,
                   DeskSealedMore more,
                   gpointer data,
                   GError **error)
{
  g_autofree char *path = g_build_filename (dir, DESK_SEALED_NAME, NULL);
  g_autofree char *beside = g_strconcat (path, ".new", NULL);
  int fd = open_beside (beside), saved;
  gboolean ok;

  errno = 0;
  ok = fd >= 0 && write_file (fd, name, key, totals, more, data) && g_rename (beside, path) == 0;
  saved = errno != 0 ? errno : EIO;
  if (!ok && fd >= 0)
    g_unlink (beside);
  if (fd >= 0)
    close (fd);
  if (!ok)
    g_set_error (error, G_FILE_ERROR, g_file_error_from_errno (saved), "%s: %s", beside,
                 g_strerror (saved));
  return ok;
}
