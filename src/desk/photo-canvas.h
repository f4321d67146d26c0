/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "desk/photo-mark.h"
#include "desk/photo-outline.h"
#include "desk/photo-pyramid.h"
#include "shape/homography.h"

G_BEGIN_DECLS

#define SHERD_TYPE_PHOTO_CANVAS (sherd_photo_canvas_get_type ())
G_DECLARE_FINAL_TYPE (SherdPhotoCanvas, sherd_photo_canvas, SHERD, PHOTO_CANVAS, GtkWidget)

GtkWidget *sherd_photo_canvas_new (void);

/* The photograph. */
void sherd_photo_canvas_set_title (SherdPhotoCanvas *self, const char *title);
void sherd_photo_canvas_set_pyramid (SherdPhotoCanvas *self, SherdPhotoPyramid *pyramid);
SherdPhotoPyramid *sherd_photo_canvas_get_pyramid (SherdPhotoCanvas *self);
void sherd_photo_canvas_set_picture (SherdPhotoCanvas *self, const SherdPicture *picture);

/* The view. Widget px are logical, from the canvas's top left corner. */
SherdPoint sherd_photo_canvas_photo_to_widget (SherdPhotoCanvas *self, SherdPoint photo_px);
SherdPoint sherd_photo_canvas_widget_to_photo (SherdPhotoCanvas *self, SherdPoint widget_px);
double sherd_photo_canvas_get_zoom (SherdPhotoCanvas *self);
SherdPoint sherd_photo_canvas_get_centre (SherdPhotoCanvas *self);
void sherd_photo_canvas_set_view (SherdPhotoCanvas *self, double zoom, SherdPoint centre_photo_px);
void sherd_photo_canvas_fit (SherdPhotoCanvas *self);
void sherd_photo_canvas_reveal (SherdPhotoCanvas *self, SherdPoint photo_px);

/* Two canvases that show the same place, of the piece if both are aligned. */
void sherd_photo_canvas_set_alignment (SherdPhotoCanvas *self, const SherdHomography *piece_to_photo);
void sherd_photo_canvas_link (SherdPhotoCanvas *self, SherdPhotoCanvas *other);
void sherd_photo_canvas_unlink (SherdPhotoCanvas *self);

/* Outlines of zones or patches. */
guint sherd_photo_canvas_add_outline (SherdPhotoCanvas *self, const SherdOutline *outline_photo_px, const char *code);
void sherd_photo_canvas_clear_outlines (SherdPhotoCanvas *self);
guint sherd_photo_canvas_get_n_outlines (SherdPhotoCanvas *self);
void sherd_photo_canvas_set_outline_shape (SherdPhotoCanvas *self, guint index, const SherdOutline *outline_photo_px);
void sherd_photo_canvas_set_outline_state (SherdPhotoCanvas *self,
                                           guint index,
                                           SherdPhotoOutlineState state,
                                           const char *note);
void sherd_photo_canvas_select_outline (SherdPhotoCanvas *self, int index);
int sherd_photo_canvas_get_selected_outline (SherdPhotoCanvas *self);

/* Marks to be picked. */
guint sherd_photo_canvas_add_mark (SherdPhotoCanvas *self, SherdPhotoMarkKind kind, const char *name);
gboolean sherd_photo_canvas_has_mark (SherdPhotoCanvas *self, guint index, SherdPhotoMarkKind kind, const char *name);
void sherd_photo_canvas_clear_marks (SherdPhotoCanvas *self);
guint sherd_photo_canvas_get_n_marks (SherdPhotoCanvas *self);
void sherd_photo_canvas_set_mark (SherdPhotoCanvas *self, guint index, SherdPoint photo_px);
void sherd_photo_canvas_unset_mark (SherdPhotoCanvas *self, guint index);
gboolean sherd_photo_canvas_get_mark (SherdPhotoCanvas *self, guint index, SherdPoint *photo_px);
void sherd_photo_canvas_focus_mark (SherdPhotoCanvas *self, guint index);
gboolean sherd_photo_canvas_begin_marking (SherdPhotoCanvas *self);
void sherd_photo_canvas_end_marking (SherdPhotoCanvas *self);
gboolean sherd_photo_canvas_get_marking (SherdPhotoCanvas *self);
void sherd_photo_canvas_set_snap (SherdPhotoCanvas *self, SherdPhotoMarkKind kind, gboolean snaps);
int sherd_photo_canvas_get_next_mark (SherdPhotoCanvas *self);

/* Colour under the pointer. @linear: linear light in sRGB primaries; returns XYZ, D50. */
typedef SherdXyz (*SherdPhotoColourFunc) (const SherdRgb *linear, SherdPoint photo_px, gpointer user_data);
void sherd_photo_canvas_set_colour_func (SherdPhotoCanvas *self,
                                         SherdPhotoColourFunc func,
                                         gpointer user_data,
                                         GDestroyNotify destroy);
gboolean sherd_photo_canvas_get_colour (SherdPhotoCanvas *self, SherdPoint photo_px, SherdLab *lab);
char *sherd_photo_canvas_dup_colour_text (SherdPhotoCanvas *self, SherdPoint photo_px);

G_END_DECLS
