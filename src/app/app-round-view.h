/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-round-view.h — the list under a round line: what will be written, what is wrong, who is
 * left out; in the order of the line. */
#pragma once

#include "app/app-types.h"

typedef enum
{
  APP_ROUND_WRITES,
  APP_ROUND_PROBLEM,
  APP_ROUND_LEFT_OUT
} AppRoundPreviewKind;

typedef struct
{
  AppRoundPreviewKind kind;
  size_t at; /* bytes into the line */
  char *who;
  char *what;
} AppRoundPreviewLine;

/* Element type AppRoundPreviewLine; `line` as typed. */
GPtrArray *app_round_preview_lines (Desk *desk, DeskRoundPreview *preview, const char *line);
