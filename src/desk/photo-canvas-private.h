/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "desk/photo-canvas.h"
#include "desk/photo-loupe.h"
#include "desk/photo-view.h"

G_BEGIN_DECLS

/* Our choice: radius of the disc whose mean is told as the colour under the pointer; some 80 pixels, enough to still
 * the noise of a camera. */
#define SHERD_PHOTO_DISC_PX 5.0

/* What a pressed button does until it is let go. */
typedef enum
{
  SHERD_PHOTO_PRESS_NONE,
  SHERD_PHOTO_PRESS_PAN,   /* moves the picture; without movement it was a click */
  SHERD_PHOTO_PRESS_MARK,  /* moves a mark that was there */
  SHERD_PHOTO_PRESS_PLACE, /* a mark is being placed */
} SherdPhotoPress;

enum
{
  SHERD_PHOTO_CANVAS_MARK_PLACED,
  SHERD_PHOTO_CANVAS_MARK_MOVED,
  SHERD_PHOTO_CANVAS_MARK_REMOVED,
  SHERD_PHOTO_CANVAS_MARKING_ENDED,
  SHERD_PHOTO_CANVAS_OUTLINE_ACTIVATED,
  SHERD_PHOTO_CANVAS_POINTER_MOVED,
  SHERD_PHOTO_CANVAS_VIEW_CHANGED,
  SHERD_PHOTO_CANVAS_N_SIGNALS,
};

extern guint sherd_photo_canvas_signals[SHERD_PHOTO_CANVAS_N_SIGNALS];

struct _SherdPhotoCanvas
{
  GtkWidget parent_instance;

  SherdPhotoPyramid *pyramid; /* (nullable) */
  gulong pyramid_changed_id;

  SherdPhotoView view;
  gboolean fitted;     /* the whole photograph stays in sight when the canvas changes its size */
  gboolean allocating; /* in size_allocate */
  gboolean moving;     /* the view changed a moment ago: draw quickly, sharpen later */
  guint settle_id;

  guint zoom_tick_id; /* a smooth zoom is under way */
  double zoom_goal;
  SherdPoint zoom_photo_px;  /* this place … */
  SherdPoint zoom_widget_px; /* … stays here */
  gint64 zoom_us;
  double pinch_zoom; /* zoom when a pinch began */

  GPtrArray *outlines; /* of SherdPhotoOutline, children */
  int selected_outline;
  int focused_outline; /* the one that Tab comes back to */

  GPtrArray *marks; /* of SherdPhotoMark, children */
  gboolean marking;
  gboolean mark_in_middle; /* the next mark is being aimed with the keyboard */
  gboolean nudged;         /* a mark was moved with a key that is still down */
  gboolean snaps[2];       /* by kind: a mark that is let go moves to the corner next to it */
  gboolean free_hand;      /* but not this one */
  GtkWidget *hint;
  GtkWidget *loupe;

  SherdPhotoPress press;
  guint held_mark;
  SherdPoint held_from_photo_px; /* where the held mark was */
  SherdPoint pressed_widget_px;
  SherdPoint dragged_widget_px;
  gboolean dragged;
  gboolean space_held;
  gboolean pointer_inside;
  SherdPoint pointer_widget_px;

  SherdPhotoColourFunc colour_func;
  gpointer colour_data;
  GDestroyNotify colour_destroy;

  SherdHomography *alignment; /* (nullable): piece mm → photo px */
  SherdPhotoCanvas *twin;     /* (nullable): shows the same place; not owned, points back */
  gboolean following;         /* the view is being set by the twin */
  gboolean twin_pointed;      /* the pointer is over the twin, at … */
  SherdPoint twin_photo_px;   /* … this place of our photograph */
};

/* photo-canvas.c */
gboolean sherd_photo_canvas_has_photo (SherdPhotoCanvas *self);
void sherd_photo_canvas_view_changed (SherdPhotoCanvas *self);
void sherd_photo_canvas_zoom_to (SherdPhotoCanvas *self, double zoom, SherdPoint about_widget_px);
void sherd_photo_canvas_finish_zoom (SherdPhotoCanvas *self);
SherdPoint sherd_photo_canvas_get_middle (SherdPhotoCanvas *self);

/* photo-canvas-outlines.c */
void sherd_photo_canvas_init_outlines (SherdPhotoCanvas *self);
void sherd_photo_canvas_draw_outlines (SherdPhotoCanvas *self, GtkSnapshot *snapshot);
void sherd_photo_canvas_allocate_outlines (SherdPhotoCanvas *self);
int sherd_photo_canvas_find_outline (SherdPhotoCanvas *self, SherdPoint photo_px);
int sherd_photo_canvas_get_focused_outline (SherdPhotoCanvas *self);
void sherd_photo_canvas_activate_outline (SherdPhotoCanvas *self, guint index);
gboolean sherd_photo_canvas_focus_neighbour (SherdPhotoCanvas *self, int dx, int dy);

/* photo-canvas-marks.c */
void sherd_photo_canvas_init_marks (SherdPhotoCanvas *self);
void sherd_photo_canvas_draw_aim (SherdPhotoCanvas *self, GtkSnapshot *snapshot);
void sherd_photo_canvas_allocate_marks (SherdPhotoCanvas *self);
int sherd_photo_canvas_find_mark (SherdPhotoCanvas *self, SherdPoint widget_px);
int sherd_photo_canvas_get_focused_mark (SherdPhotoCanvas *self);
void sherd_photo_canvas_move_mark (SherdPhotoCanvas *self, guint index, SherdPoint photo_px, gboolean finished);
void sherd_photo_canvas_nudge_mark (SherdPhotoCanvas *self, guint index, double dx_px, double dy_px, gboolean finished);
void sherd_photo_canvas_finish_nudge (SherdPhotoCanvas *self);
void sherd_photo_canvas_remove_mark (SherdPhotoCanvas *self, guint index);
void sherd_photo_canvas_place_mark (SherdPhotoCanvas *self, SherdPoint photo_px);
void sherd_photo_canvas_finish_placing (SherdPhotoCanvas *self, guint index);
gboolean sherd_photo_canvas_place_next (SherdPhotoCanvas *self, SherdPoint photo_px);
void sherd_photo_canvas_update_loupe (SherdPhotoCanvas *self);
void sherd_photo_canvas_update_hint (SherdPhotoCanvas *self);

/* photo-canvas-snap.c */
gboolean sherd_photo_canvas_snap_mark (SherdPhotoCanvas *self, guint index);
void sherd_photo_canvas_snap_if_wanted (SherdPhotoCanvas *self, guint index);
gboolean sherd_photo_canvas_press_snap (SherdPhotoCanvas *self);

/* photo-canvas-input.c */
void sherd_photo_canvas_init_input (SherdPhotoCanvas *self);
void sherd_photo_canvas_press (SherdPhotoCanvas *self, SherdPoint widget_px, guint button);
void sherd_photo_canvas_drag (SherdPhotoCanvas *self, SherdPoint widget_px, GdkModifierType state);
void sherd_photo_canvas_release (SherdPhotoCanvas *self);
void sherd_photo_canvas_let_go (SherdPhotoCanvas *self);
void sherd_photo_canvas_point (SherdPhotoCanvas *self, SherdPoint widget_px, gboolean inside);
void
sherd_photo_canvas_scroll (SherdPhotoCanvas *self, double dx, double dy, GdkScrollUnit unit, GdkModifierType state);
gboolean sherd_photo_canvas_key_down (SherdPhotoCanvas *self, guint keyval, GdkModifierType state);
void sherd_photo_canvas_key_up (SherdPhotoCanvas *self, guint keyval);
gboolean sherd_photo_canvas_move_focus (GtkWidget *widget, GtkDirectionType direction);

/* photo-canvas-link.c */
void sherd_photo_canvas_lead_twin (SherdPhotoCanvas *self);
void sherd_photo_canvas_point_in_twin (SherdPhotoCanvas *self);
void sherd_photo_canvas_draw_twin_pointer (SherdPhotoCanvas *self, GtkSnapshot *snapshot);

G_END_DECLS
