/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-faulty.h — the n-th allocation, write, sync of SQLite fails: for loops over n until an
 * operation goes through untouched. */
#pragma once

#include "store-testing.h"

typedef enum
{
  FAULT_NONE,
  FAULT_FULL,        /* a write finds no room */
  FAULT_SHORT_WRITE, /* half of it is written, then an error */
  FAULT_SYNC,
  FAULT_TRUNCATE,
  FAULT_OPEN,
  FAULT_READ
} Fault;

typedef struct
{
  Fault fault;
  int countdown;
  gboolean stays; /* from the n-th on, as a full disk does */
  int spent;      /* how often it has struck */
} FaultyFiles;

extern FaultyFiles faulty_files;
extern int faulty_mem_countdown; /* 0 = off */
extern int faulty_mem_spent;

void faulty_install (void); /* before anything else of SQLite */
void faulty_off (void);
