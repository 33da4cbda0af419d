/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-pages.c — see store-pages.h.
 *
 * The form of pages, cells, records and of the pending part is that of "Database
 * File Format", https://www.sqlite.org/fileformat2.html, sections 1.3 to 2.1 and
 * 4.
 */
#include "store/store-pages.h"

#include <string.h>

#define WAL_HEADER 32
#define WAL_FRAME 24
#define MAX_PAYLOAD (64 * 1024 * 1024)

/* Page types. */
#define INDEX_INTERIOR 0x02
#define TABLE_INTERIOR 0x05
#define INDEX_LEAF 0x0a
#define TABLE_LEAF 0x0d

typedef struct
{
  GMappedFile *db_map, *wal_map;
  const guint8 *db, *wal;
  gsize db_size, wal_size;
  GHashTable *frames; /* page number → offset of its last committed page in the wal */
  guint page_size, usable;
  guint32 n_pages;
  guint32 entry_root;  /* where the table `entry` begins; 0 = not found */
  GByteArray *payload; /* of the cell being read, when it does not lie on one page */
} Pages;

static guint
be16 (const guint8 *p)
{
  return (guint) p[0] << 8 | p[1];
}

static guint32
be32 (const guint8 *p)
{
  return (guint32) p[0] << 24 | (guint32) p[1] << 16 | (guint32) p[2] << 8 | p[3];
}

static guint32
le32 (const guint8 *p)
{
  return p[0] | (guint32) p[1] << 8 | (guint32) p[2] << 16 | (guint32) p[3] << 24;
}

/* 1 to 9 bytes; returns how many, 0 = past the end. */
static guint
varint (const guint8 *p, gsize left, gint64 *out)
{
  guint64 value = 0;

  for (guint i = 0; i < 9 && i < left; i++)
    {
      if (i == 8)
        {
          *out = (gint64) (value << 8 | p[i]);
          return 9;
        }
      value = value << 7 | (p[i] & 0x7f);
      if ((p[i] & 0x80) == 0)
        {
          *out = (gint64) value;
          return i + 1;
        }
    }
  return 0;
}

static gboolean
is_page_size (guint32 size)
{
  return size >= 512 && size <= 65536 && (size & (size - 1)) == 0;
}

/* A first page that is damaged itself: then the sizes that this program writes. */
static void
read_header (Pages *self)
{
  guint32 size = 4096;
  guint reserved = 0;

  if (self->db_size >= 100 && memcmp (self->db, "SQLite format 3", 16) == 0)
    {
      size = be16 (self->db + 16);
      size = size == 1 ? 65536 : size;
      reserved = self->db[20];
    }
  if (!is_page_size (size))
    size = 4096;
  self->page_size = size;
  self->usable = size - reserved >= 480 ? size - reserved : size;
  self->n_pages = (guint32) MIN (self->db_size / size, G_MAXUINT32 - 1);
}

/* ---- what is pending ---- */

typedef struct
{
  guint32 a, b;
} Sum;

static Sum
sum_more (Sum sum, const guint8 *p, gsize n, gboolean big)
{
  for (gsize i = 0; i + 8 <= n; i += 8)
    {
      sum.a += (big ? be32 (p + i) : le32 (p + i)) + sum.b;
      sum.b += (big ? be32 (p + i + 4) : le32 (p + i + 4)) + sum.a;
    }
  return sum;
}

/* Frames count up to the last one that ends a transaction and whose sums, and those of all before
 * it, are right: what was never acknowledged is not taken. */
static void
read_wal (Pages *self)
{
  g_autoptr (GHashTable) open = g_hash_table_new (NULL, NULL);
  gboolean big;
  Sum sum = { 0, 0 };

  if (self->wal_size < WAL_HEADER || (be32 (self->wal) | 1) != 0x377f0683 ||
      be32 (self->wal + 8) != self->page_size)
    return;
  big = (be32 (self->wal) & 1) != 0;
  sum = sum_more (sum, self->wal, 24, big);
  if (sum.a != be32 (self->wal + 24) || sum.b != be32 (self->wal + 28))
    return;
  for (gsize at = WAL_HEADER; self->wal_size - at >= WAL_FRAME + self->page_size;
       at += WAL_FRAME + self->page_size)
    {
      const guint8 *frame = self->wal + at;
      guint32 page = be32 (frame);
      GHashTableIter iter;
      gpointer key, value;

      if (memcmp (frame + 8, self->wal + 16, 8) != 0) /* salts of an earlier round */
        return;
      sum = sum_more (sum_more (sum, frame, 8, big), frame + WAL_FRAME, self->page_size, big);
      if (page == 0 || sum.a != be32 (frame + 16) || sum.b != be32 (frame + 20))
        return;
      g_hash_table_insert (open, GUINT_TO_POINTER (page), GSIZE_TO_POINTER (at + WAL_FRAME));
      if (be32 (frame + 4) == 0)
        continue;
      g_hash_table_iter_init (&iter, open);
      while (g_hash_table_iter_next (&iter, &key, &value))
        {
          g_hash_table_insert (self->frames, key, value);
          self->n_pages = MAX (self->n_pages, GPOINTER_TO_UINT (key));
        }
      g_hash_table_remove_all (open);
    }
}

/* NULL: no such page. */
static const guint8 *
page_at (Pages *self, guint32 number)
{
  gsize in_wal = GPOINTER_TO_SIZE (g_hash_table_lookup (self->frames, GUINT_TO_POINTER (number)));
  gsize at;

  if (in_wal != 0)
    return self->wal + in_wal;
  if (number == 0)
    return NULL;
  at = (gsize) (number - 1) * self->page_size;
  return at < self->db_size && self->db_size - at >= self->page_size ? self->db + at : NULL;
}

/* ---- cells ---- */

/* How many bytes of a payload lie in the cell itself. */
static gsize
local_bytes (Pages *self, gsize payload, gboolean table)
{
  gsize u = self->usable;
  gsize most = table ? u - 35 : (u - 12) * 64 / 255 - 23;
  gsize least = (u - 12) * 32 / 255 - 23;
  gsize fitting = least + (payload > least ? (payload - least) % (u - 4) : 0);

  if (payload <= most)
    return payload;
  return fitting <= most ? fitting : least;
}

/* The whole payload, which may go on over a chain of pages; NULL when the chain breaks. */
static const guint8 *
gather (Pages *self, const guint8 *cell, gsize left, gsize payload, gboolean table)
{
  gsize local = local_bytes (self, payload, table);
  guint32 next;

  if (local == payload)
    return payload <= left ? cell : NULL;
  if (left < local + 4)
    return NULL;
  g_byte_array_set_size (self->payload, 0);
  g_byte_array_append (self->payload, cell, (guint) local);
  next = be32 (cell + local);
  while (self->payload->len < payload) /* each page adds some: a chain in a circle ends too */
    {
      const guint8 *page = page_at (self, next);
      gsize n = MIN (payload - self->payload->len, self->usable - 4);

      if (page == NULL)
        return NULL;
      g_byte_array_append (self->payload, page + 4, (guint) n);
      next = be32 (page);
    }
  return self->payload->data;
}

static gint64
big_endian_int (const guint8 *p, guint n)
{
  guint64 value = (p[0] & 0x80) != 0 ? G_MAXUINT64 : 0;

  for (guint i = 0; i < n; i++)
    value = value << 8 | p[i];
  return (gint64) value;
}

/* One value by its serial type; the number of its bytes, or G_MAXSIZE when there is no such. */
static gsize
take_value (gint64 type, const guint8 *p, gsize left, PageValue *out)
{
  static const guint8 int_bytes[] = { 0, 1, 2, 3, 4, 6, 8 };
  gsize n = 0;

  *out = (PageValue){ .type = PAGE_VALUE_NULL };
  if (type == 8 || type == 9)
    *out = (PageValue){ .type = PAGE_VALUE_INT, .i = type - 8 };
  else if (type >= 1 && type <= 7)
    {
      n = type == 7 ? 8 : int_bytes[type];
      if (n > left)
        return G_MAXSIZE;
      out->type = type == 7 ? PAGE_VALUE_REAL : PAGE_VALUE_INT;
      out->i = big_endian_int (p, (guint) n);
      if (type == 7)
        memcpy (&out->r, &out->i, sizeof out->r);
    }
  else if (type >= 12)
    {
      n = (gsize) (type - 12) / 2;
      if (n > left)
        return G_MAXSIZE;
      out->type = type % 2 == 0 ? PAGE_VALUE_BLOB : PAGE_VALUE_TEXT;
      out->bytes = p;
      out->n = n;
    }
  else if (type != 0)
    return G_MAXSIZE;
  return n;
}

/* FALSE: no record. Its values must fill the payload to the byte. */
static gboolean
read_record (const guint8 *payload, gsize size, PageRow *row)
{
  gint64 header, type;
  gsize at = varint (payload, size, &header);
  gsize body;

  if (at == 0 || header < (gint64) at || (guint64) header > size)
    return FALSE;
  body = (gsize) header;
  row->n = 0;
  while (at < (gsize) header)
    {
      guint used = varint (payload + at, (gsize) header - at, &type);
      gsize n;

      if (used == 0 || type < 0 || row->n >= PAGE_MAX_COLUMNS)
        return FALSE;
      n = take_value (type, payload + body, size - body, &row->values[row->n++]);
      if (n == G_MAXSIZE)
        return FALSE;
      body += n;
      at += used;
    }
  return body == size;
}

static gboolean
says (const PageValue *value, const char *text)
{
  return value->type == PAGE_VALUE_TEXT && value->n == strlen (text) &&
         memcmp (value->bytes, text, value->n) == 0;
}

/* A row of the schema: type, name, table, first page, how it was made. */
static void
note_root (Pages *self, const PageRow *row)
{
  const PageValue *values = row->values;

  if (row->has_rowid && row->n == 5 && says (&values[0], "table") && says (&values[1], "entry") &&
      values[3].type == PAGE_VALUE_INT && values[3].i > 1 && values[3].i < G_MAXUINT32)
    self->entry_root = (guint32) values[3].i;
}

/* FALSE ends the walk; a cell that is no row is passed over. */
static gboolean
read_cell (Pages *self,
           const guint8 *page,
           guint type,
           gsize at,
           PageRowFunc func,
           gpointer data)
{
  PageRow row = { .has_rowid = type == TABLE_LEAF };
  gint64 payload;
  const guint8 *bytes;
  guint used;

  if (type == INDEX_INTERIOR)
    at += 4;
  if (at >= self->usable)
    return TRUE;
  used = varint (page + at, self->usable - at, &payload);
  at += used;
  if (used == 0 || payload < 1 || payload > MAX_PAYLOAD)
    return TRUE;
  if (type == TABLE_LEAF)
    {
      used = varint (page + at, self->usable - at, &row.rowid);
      at += used;
      if (used == 0)
        return TRUE;
    }
  bytes = gather (self, page + at, self->usable - at, (gsize) payload, type == TABLE_LEAF);
  if (bytes == NULL || !read_record (bytes, (gsize) payload, &row))
    return TRUE;
  note_root (self, &row);
  return func (&row, data);
}

static gboolean
read_page (Pages *self, guint32 number, PageRowFunc func, gpointer data)
{
  const guint8 *page = page_at (self, number);
  gsize head = number == 1 ? 100 : 0;
  guint type, n_cells;
  gsize pointers;

  if (page == NULL)
    return TRUE;
  type = page[head];
  if (type != TABLE_LEAF && type != INDEX_LEAF && type != INDEX_INTERIOR)
    return TRUE;
  pointers = head + (type == INDEX_INTERIOR ? 12 : 8);
  n_cells = be16 (page + head + 3);
  n_cells = (guint) MIN (n_cells, (self->usable - pointers) / 2);
  for (guint i = 0; i < n_cells; i++)
    {
      gsize at = be16 (page + pointers + 2 * i);

      if (at >= pointers + 2 * n_cells && !read_cell (self, page, type, at, func, data))
        return FALSE;
    }
  return TRUE;
}

/* ---- what is not there ---- */

/* The number of pages that the first page says the file has, where SQLite would believe it. */
static guint32
pages_by_header (Pages *self)
{
  const guint8 *page = page_at (self, 1);

  if (page == NULL || memcmp (page, "SQLite format 3", 16) != 0 ||
      be32 (page + 24) != be32 (page + 92))
    return 0;
  return be32 (page + 28);
}

static guint32
pages_beyond_end (Pages *self)
{
  guint32 should = pages_by_header (self);
  guint32 there = (guint32) MIN (self->db_size / self->page_size, G_MAXUINT32 - 1);
  guint32 pending = 0;
  GHashTableIter iter;
  gpointer key;

  g_hash_table_iter_init (&iter, self->frames);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    pending += GPOINTER_TO_UINT (key) > there && GPOINTER_TO_UINT (key) <= should;
  return should > there + pending ? should - there - pending : 0;
}

/* The highest number of a row that one page above the rows names; *right is the page that holds
 * those after it. 0 = no such page. */
static gint64
last_key (Pages *self, guint32 number, guint32 *right)
{
  const guint8 *page = page_at (self, number);
  guint n_cells = page != NULL && page[0] == TABLE_INTERIOR ? be16 (page + 3) : 0;
  gint64 last = 0, key;

  if (n_cells == 0 || n_cells > (self->usable - 12) / 2)
    return 0;
  *right = be32 (page + 8);
  for (guint i = 0; i < n_cells; i++)
    {
      gsize at = be16 (page + 12 + 2 * i);

      if (at + 4 < self->usable && varint (page + at + 4, self->usable - at - 4, &key) > 0)
        last = MAX (last, key);
    }
  return last;
}

/* Entries are only ever added, so the right edge of their table tells how many there were, also
 * where the pages below it are gone. */
static gint64
last_entry (Pages *self)
{
  guint32 number = self->entry_root, right = 0;
  gint64 last = 0, key;

  for (guint depth = 0; depth < 20 && (key = last_key (self, number, &right)) > last; depth++)
    {
      last = key;
      number = right;
    }
  return last > 0 ? last + 1 : 0; /* the page to the right of a key is never empty */
}

gboolean
_store_pages_walk (const char *db_path, PageRowFunc func, gpointer data, PageLoss *loss)
{
  g_autofree char *wal_path = g_strconcat (db_path, "-wal", NULL);
  Pages self = { .db_map = g_mapped_file_new (db_path, FALSE, NULL) };
  gboolean ok = self.db_map != NULL;

  if (!ok)
    return FALSE;
  self.wal_map = g_mapped_file_new (wal_path, FALSE, NULL);
  self.db = (const guint8 *) g_mapped_file_get_contents (self.db_map);
  self.db_size = g_mapped_file_get_length (self.db_map);
  self.wal = self.wal_map != NULL ? (const guint8 *) g_mapped_file_get_contents (self.wal_map) : NULL;
  self.wal_size = self.wal != NULL ? g_mapped_file_get_length (self.wal_map) : 0;
  self.frames = g_hash_table_new (NULL, NULL);
  self.payload = g_byte_array_new ();
  read_header (&self);
  read_wal (&self);
  for (guint32 number = 1; ok && number <= self.n_pages; number++)
    ok = read_page (&self, number, func, data);
  *loss = (PageLoss){ pages_beyond_end (&self), last_entry (&self) };
  g_byte_array_unref (self.payload);
  g_hash_table_unref (self.frames);
  g_clear_pointer (&self.wal_map, g_mapped_file_unref);
  g_mapped_file_unref (self.db_map);
  return ok;
}
