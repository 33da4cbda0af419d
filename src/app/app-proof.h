/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-proof.h — asks where to, then writes a proof sheet: of what lies on the photo bench, or of a
 * picture whose marks are recorded. */
#pragma once

#include "app/app-window.h"
#include "desk/bench-model.h"

/* What becomes of it is said by the window. */
void app_proof_save (AppWindow *window, BenchModel *model);
void app_proof_save_photo (AppWindow *window, CoreId photo);
