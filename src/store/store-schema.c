/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-schema.c — the tables, and the steps from one version to the next.
 *
 * Invariant: a step that has been released is never edited; a change is a new
 * step at the end, and so is a new entry kind, key of a kind, or word of a key
 * (an older program must not meet what it cannot read). tests/fixtures holds a journal of every version.
 */
#include "store/store-private.h"

#include <string.h>

/* Why these forms: STRICT, so that a damaged or foreign writer cannot put text
 * where a number belongs; ids as 16 bytes, ascending, so that the index grows
 * at its end; `names` without REFERENCES, since a merge may bring a void before
 * the entry that it takes back; the search index over a view of notes only. */
static const char schema_1[] =
  "CREATE TABLE meta ("
  "  key TEXT PRIMARY KEY,"
  "  value TEXT NOT NULL"
  ") STRICT, WITHOUT ROWID;"
  "CREATE TABLE subject ("
  "  id BLOB PRIMARY KEY CHECK (length(id) = 16),"
  "  kind TEXT NOT NULL CHECK (kind IN"
  "    ('animal', 'lot', 'eggcase', 'place', 'culture', 'journal'))"
  ") STRICT, WITHOUT ROWID;"
  "CREATE TABLE entry ("
  "  seq INTEGER PRIMARY KEY,"
  "  id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),"
  "  subject BLOB NOT NULL REFERENCES subject(id),"
  "  kind TEXT NOT NULL,"
  "  day INTEGER NOT NULL,"
  "  earliest INTEGER,"
  "  minute INTEGER CHECK (minute BETWEEN 0 AND 1440),"
  "  written_ms INTEGER NOT NULL CHECK (written_ms >= 0),"
  "  device BLOB NOT NULL CHECK (length(device) = 16),"
  "  round BLOB NOT NULL CHECK (length(round) = 16),"
  "  names BLOB CHECK (length(names) = 16),"
  "  bulk INTEGER NOT NULL CHECK (bulk IN (0, 1)),"
  "  code TEXT,"
  "  n REAL,"
  "  sd REAL,"
  "  ref BLOB CHECK (length(ref) = 16),"
  "  text TEXT,"
  "  more TEXT CHECK (more IS NULL OR json_valid(more))"
  ") STRICT;"
  "CREATE TABLE photo ("
  "  id BLOB PRIMARY KEY CHECK (length(id) = 16),"
  "  hash TEXT NOT NULL UNIQUE CHECK (length(hash) = 64),"
  "  format TEXT NOT NULL,"
  "  width INTEGER NOT NULL CHECK (width > 0),"
  "  height INTEGER NOT NULL CHECK (height > 0),"
  "  orientation INTEGER NOT NULL CHECK (orientation BETWEEN 1 AND 8),"
  "  bytes INTEGER NOT NULL CHECK (bytes > 0),"
  "  taken INTEGER,"
  "  taken_minute INTEGER CHECK (taken_minute BETWEEN 0 AND 1439)"
  ") STRICT, WITHOUT ROWID;"
  "CREATE TABLE draft ("
  "  key TEXT PRIMARY KEY,"
  "  written_ms INTEGER NOT NULL,"
  "  body TEXT NOT NULL"
  ") STRICT, WITHOUT ROWID;"
  "CREATE TABLE snapshot ("
  "  key TEXT PRIMARY KEY,"
  "  count INTEGER NOT NULL,"
  "  last_seq INTEGER NOT NULL,"
  "  xor_ids BLOB NOT NULL CHECK (length(xor_ids) = 16),"
  "  program TEXT NOT NULL,"
  "  profiles TEXT NOT NULL,"
  "  body BLOB NOT NULL"
  ") STRICT;"
  "CREATE VIEW note AS SELECT seq, text FROM entry WHERE kind = 'note';"
  "CREATE VIRTUAL TABLE note_search USING fts5 (text, content = 'note', content_rowid = 'seq',"
  "  prefix = '2 3', tokenize = 'unicode61 remove_diacritics 2');"
  "CREATE TRIGGER entry_note AFTER INSERT ON entry WHEN new.kind = 'note' BEGIN"
  "  INSERT INTO note_search (rowid, text) VALUES (new.seq, new.text);"
  " END;"
  "CREATE TRIGGER entry_keep BEFORE UPDATE ON entry BEGIN"
  "  SELECT RAISE (ABORT, 'entries are never changed');"
  " END;"
  "CREATE TRIGGER entry_stay BEFORE DELETE ON entry BEGIN"
  "  SELECT RAISE (ABORT, 'entries are never removed');"
  " END;";

/* No table and no column: the kind `logged` came, and an older program, which does not know it, must
 * not take a journal that holds one for damaged. */
static const char schema_2[] = "";

/* Keys and words came: `moulted` of split, `sure` of moulted, `axis_by` of marked, `photo` and `axis`
 * of measured, trouble `flooded`. An older program would take entries with them for damaged. */
static const char schema_3[] = "";

typedef struct
{
  int to;
  const char *sql;
} SchemaStep;

static const SchemaStep steps[] = {
  { 1, schema_1 },
  { 2, schema_2 },
  { 3, schema_3 },
};

G_STATIC_ASSERT (G_N_ELEMENTS (steps) == STORE_SCHEMA);

static const char *const subject_names[CORE_N_SUBJECTS] = {
  [CORE_SUBJECT_ANIMAL] = "animal",   [CORE_SUBJECT_LOT] = "lot",
  [CORE_SUBJECT_EGGCASE] = "eggcase", [CORE_SUBJECT_PLACE] = "place",
  [CORE_SUBJECT_CULTURE] = "culture", [CORE_SUBJECT_JOURNAL] = "journal",
};

const char *
_store_subject_name (CoreSubjectKind kind)
{
  return kind > CORE_SUBJECT_NONE && kind < CORE_N_SUBJECTS ? subject_names[kind] : NULL;
}

CoreSubjectKind
_store_subject_from_name (const char *name)
{
  for (int i = CORE_SUBJECT_NONE + 1; name != NULL && i < CORE_N_SUBJECTS; i++)
    if (strcmp (subject_names[i], name) == 0)
      return (CoreSubjectKind) i;
  return CORE_SUBJECT_NONE;
}

/* Runs inside the caller's transaction. */
gboolean
_store_migrate (Store *self, int from, int to, GError **error)
{
  g_autofree char *stamp = g_strdup_printf ("PRAGMA application_id = %d; PRAGMA user_version = %d",
                                            STORE_APPLICATION_ID, to);

  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    if (steps[i].to > from && steps[i].to <= to && !_store_exec (self, steps[i].sql, error))
      return FALSE;
  return _store_exec (self, stamp, error);
}

/* NULL with *rc when it cannot be read to its end. */
static char *
dump_schema (sqlite3 *db, int *rc)
{
  g_autoptr (GString) all = g_string_new (NULL);
  g_autoptr (Stmt) stmt = NULL;

  *rc = sqlite3_prepare_v2 (db,
                            "SELECT type, name, tbl_name, sql FROM sqlite_schema"
                            " WHERE name NOT LIKE 'sqlite_stat%' ORDER BY type, name",
                            -1, &stmt, NULL);
  if (*rc != SQLITE_OK)
    return NULL;
  while ((*rc = sqlite3_step (stmt)) == SQLITE_ROW)
    for (int i = 0; i < 4; i++)
      {
        const char *text = (const char *) sqlite3_column_text (stmt, i);

        if (text == NULL && sqlite3_column_type (stmt, i) != SQLITE_NULL)
          {
            *rc = SQLITE_NOMEM;
            return NULL;
          }
        g_string_append_printf (all, "%s\n", text != NULL ? text : "-");
      }
  if (*rc != SQLITE_DONE)
    return NULL;
  return g_string_free (g_steal_pointer (&all), FALSE);
}

/* The schema of the file as its text says, read by a connection of its own that
 * trusts nothing: without trust SQLite refuses the whole schema for the
 * json_valid in it, and only as for a repair does it go on to the text. */
static char *
dump_untrusted (Store *self, GError **error)
{
  Store theirs = { .dir = self->dir, .lock_fd = -1 };
  int rc = sqlite3_open_v2 (self->db_path, &theirs.db, SQLITE_OPEN_READWRITE, NULL);
  char *text = NULL;

  if (rc == SQLITE_OK)
    {
      sqlite3_db_config (theirs.db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
      sqlite3_db_config (theirs.db, SQLITE_DBCONFIG_WRITABLE_SCHEMA, 1, NULL);
      text = dump_schema (theirs.db, &rc);
    }
  if (text == NULL)
    _store_set_sql_error (&theirs, rc == SQLITE_ERROR ? SQLITE_CORRUPT : rc, error);
  sqlite3_close_v2 (theirs.db);
  return text;
}

static char *
dump_ours (Store *self, int version, GError **error)
{
  Store model = { .dir = self->dir, .lock_fd = -1 };
  int rc = sqlite3_open_v2 (":memory:", &model.db,
                            SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_MEMORY, NULL);
  char *text = NULL;

  if (rc != SQLITE_OK)
    _store_set_sql_error (&model, rc, error);
  else if (_store_migrate (&model, 0, version, error))
    {
      text = dump_schema (model.db, &rc);
      if (text == NULL)
        _store_set_sql_error (&model, rc, error);
    }
  sqlite3_close_v2 (model.db);
  return text;
}

/* A journal from elsewhere may carry triggers and views of its own making: only
 * one whose schema is that of its version to the letter is read. */
gboolean
_store_schema_matches (Store *self, int version, gboolean *matches, GError **error)
{
  g_autofree char *theirs = dump_untrusted (self, error);
  g_autofree char *ours = theirs != NULL ? dump_ours (self, version, error) : NULL;

  *matches = ours != NULL && strcmp (ours, theirs) == 0;
  return ours != NULL;
}
