/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-timeline-filter.h — which groups of entries a timeline shows: none chosen is all of them.
 *
 * Emits "changed". Alt+1 … Alt+6 choose a group, Alt+0 shows all again. */
#pragma once

#include "app/app-types.h"
#include "words/words.h"

#define APP_TYPE_TIMELINE_FILTER (app_timeline_filter_get_type ())
G_DECLARE_FINAL_TYPE (AppTimelineFilter, app_timeline_filter, APP, TIMELINE_FILTER, GtkWidget)

GtkWidget *app_timeline_filter_new (void);
/* How many entries each group has; one without is left out unless it is chosen. */
void app_timeline_filter_set_counts (AppTimelineFilter *self, const guint counts[WORDS_N_GROUPS]);
gboolean app_timeline_filter_all (AppTimelineFilter *self); /* nothing is chosen */
gboolean app_timeline_filter_chosen (AppTimelineFilter *self, WordsGroup group);
void app_timeline_filter_choose (AppTimelineFilter *self, WordsGroup group, gboolean chosen);
void app_timeline_filter_clear (AppTimelineFilter *self);
/* A key pressed with Alt; TRUE when it meant something here. */
gboolean app_timeline_filter_key (AppTimelineFilter *self, guint keyval);
