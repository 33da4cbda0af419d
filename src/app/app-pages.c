/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-pages.c — the table of pages and the words of errors. */
#include "app/app-pages.h"

#include "app/app-animal-page.h"
#include "app/app-backups-page.h"
#include "app/app-bench-page.h"
#include "app/app-calendar-page.h"
#include "app/app-cautions-page.h"
#include "app/app-climate-page.h"
#include "app/app-damaged-page.h"
#include "app/app-gallery-page.h"
#include "app/app-help.h"
#include "app/app-merge-page.h"
#include "app/app-move-in-page.h"
#include "app/app-past-page.h"
#include "app/app-measure-page.h"
#include "app/app-picture-page.h"
#include "app/app-pictures-page.h"
#include "app/app-profiles-page.h"
#include "app/app-search-page.h"
#include "app/app-shelves-page.h"
#include "app/app-welcome-page.h"

static const struct
{
  const char *name;
  GtkWidget *(*make) (void);
  gboolean has_desk;
} pages[] = {
  { "welcome", app_welcome_page_new, FALSE },
  { "opening", app_opening_page_new, FALSE },
  { "damaged", app_damaged_page_new, FALSE },
  { "shelves", app_shelves_page_new, TRUE },
  { "calendar", app_calendar_page_new, TRUE },
  { "animal", app_animal_page_new, TRUE },
  { "bench", app_bench_page_new, TRUE },
  { "measure", app_measure_page_new, TRUE },
  { "picture", app_picture_page_new, TRUE },
  { "gallery", app_gallery_page_new, TRUE },
  { "pictures", app_pictures_page_new, TRUE },
  { "past", app_past_page_new, TRUE },
  { "climate", app_climate_page_new, TRUE },
  { "move-in", app_move_in_page_new, TRUE },
  { "search", app_search_page_new, TRUE },
  { "emergency", app_help_emergency_page, FALSE },
  { "cautions", app_cautions_page_new, TRUE },
  { "backups", app_backups_page_new, TRUE },
  { "merge", app_merge_page_new, TRUE },
  { "profiles", app_profiles_page_new, TRUE },
};

void
app_pages_fill (GtkStack *stack)
{
  /* Pages connect to signals of a desk before there is one: its class must be there. */
  gpointer desk_class = g_type_class_ref (DESK_TYPE_DESK);

  for (gsize i = 0; i < G_N_ELEMENTS (pages); i++)
    gtk_stack_add_named (stack, pages[i].make (), pages[i].name);
  g_type_class_unref (desk_class);
}

void
app_pages_set_desk (GtkStack *stack, Desk *desk)
{
  for (gsize i = 0; i < G_N_ELEMENTS (pages); i++)
    if (pages[i].has_desk)
      g_object_set (gtk_stack_get_child_by_name (stack, pages[i].name), "desk", desk, NULL);
}
