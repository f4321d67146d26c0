/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>
#include <json-glib/json-glib.h>

#include "../measure/scene.h"

G_BEGIN_DECLS

/* Running the program `sherd` in a folder of its own. */

/* One run: exit status, standard output, standard error. */
typedef struct
{
  int status;
  char *out;
  char *err;
} Run;

void run_clear (Run *run);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Run, run_clear)

char *story_folder_new (void);
void story_folder_remove (const char *folder);

/* @arguments: as typed behind “sherd”, quotes and all; @locale: (nullable) */
Run story_run_in_locale (const char *folder, const char *arguments, const char *locale);
Run story_run (const char *folder, const char *arguments);
/* Standard output goes to @output, as a shell names it behind “>”. */
Run story_run_into (const char *folder, const char *arguments, const char *output);
/* Must end with 0; returns (transfer full) standard output. */
char *story_run_well (const char *folder, const char *arguments);

/* (transfer full): the rendered tile of that name beside the tests */
SherdScene *story_scene_new (const char *name);
/* Makes tile.sherdboard in @folder: its zones, a paint a zone, both photographs with marks and chart. */
void story_tell (const char *folder, const SherdScene *scene);
/* (transfer full): the trial on the command line of “photograph”, chart and marks included */
char *story_dup_photograph_line (const SherdScene *scene, gsize photo, const char *stage);

/* (transfer full): parses standard output */
JsonNode *story_parse (const char *json);

/* 8-bit RGB rows without gaps. */
void story_write_png (const char *path, const guint8 *rgb, guint width_px, guint height_px);

G_END_DECLS
