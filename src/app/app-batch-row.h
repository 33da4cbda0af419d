/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-batch-row.h — one picture of a batch: what it is, when it was taken, whose it is.
 *
 * It can be dragged onto a cup. Signals: "next" after Return in its number, "remove".
 */
#pragma once

#include "app/app-types.h"
#include "desk/photo-batch.h"

#define APP_TYPE_BATCH_ROW (app_batch_row_get_type ())
G_DECLARE_FINAL_TYPE (AppBatchRow, app_batch_row, APP, BATCH_ROW, GtkWidget)

GtkWidget *app_batch_row_new (void);
void app_batch_row_set (AppBatchRow *self, Desk *desk, PhotoBatch *batch, guint nth);
guint app_batch_row_nth (AppBatchRow *self);
void app_batch_row_focus (AppBatchRow *self); /* its number, what stands there selected */
