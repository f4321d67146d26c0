/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photo-canvas-private.h"

#include <math.h>

/* Our choice: a press that moves less than this was a click. */
#define CLICK_PX 4.0
/* Our choice: with Shift a mark follows the pointer at a tenth of its speed. */
#define FINE_DRAG 0.1
/* Our choice: three notches of a wheel, or this much of a touchpad, double the size. */
#define NOTCHES_TO_DOUBLE 3.0
#define TOUCHPAD_PX_TO_DOUBLE 120.0
#define PAN_KEY_PX 64.0
#define PAN_KEY_FAR_PX 320.0
#define NUDGE_PX 1.0
#define NUDGE_FAR_PX 10.0
#define NUDGE_FINE_PX 0.1

static void
update_cursor (SherdPhotoCanvas *self)
{
  const char *name = NULL;

  if (self->press == SHERD_PHOTO_PRESS_PAN && self->dragged)
    name = "grabbing";
  else if (self->space_held)
    name = "grab";
  else if (self->marking)
    name = "crosshair";
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), name);
}

/* Pointer */

static void
take_mark (SherdPhotoCanvas *self, guint index)
{
  self->press = SHERD_PHOTO_PRESS_MARK;
  self->held_mark = index;
  sherd_photo_canvas_get_mark (self, index, &self->held_from_photo_px);
  gtk_widget_grab_focus (g_ptr_array_index (self->marks, index));
}

static void
press_primary (SherdPhotoCanvas *self, SherdPoint widget_px)
{
  const int mark = sherd_photo_canvas_find_mark (self, widget_px);

  if (mark >= 0)
    take_mark (self, (guint)mark);
  else if (self->marking)
    {
      self->press = SHERD_PHOTO_PRESS_PLACE;
      sherd_photo_canvas_place_mark (self, sherd_photo_view_to_photo (&self->view, widget_px));
    }
  else
    self->press = SHERD_PHOTO_PRESS_PAN;
}

void
sherd_photo_canvas_press (SherdPhotoCanvas *self, SherdPoint widget_px, guint button)
{
  if (self->press != SHERD_PHOTO_PRESS_NONE || !sherd_photo_canvas_has_photo (self))
    return;
  if (!gtk_widget_get_focus_child (GTK_WIDGET (self)))
    gtk_widget_grab_focus (GTK_WIDGET (self));
  sherd_photo_canvas_finish_zoom (self);
  self->mark_in_middle = FALSE;
  self->dragged = FALSE;
  self->pressed_widget_px = self->dragged_widget_px = self->pointer_widget_px = widget_px;
  if (button == GDK_BUTTON_MIDDLE || (button == GDK_BUTTON_PRIMARY && self->space_held))
    self->press = SHERD_PHOTO_PRESS_PAN;
  else if (button == GDK_BUTTON_PRIMARY)
    press_primary (self, widget_px);
  sherd_photo_canvas_update_loupe (self);
  update_cursor (self);
}

static void
drag_mark (SherdPhotoCanvas *self, double dx_px, double dy_px, gboolean fine)
{
  const double scale = (fine ? FINE_DRAG : 1.0) / self->view.zoom;
  SherdPoint photo_px;

  sherd_photo_canvas_get_mark (self, self->held_mark, &photo_px);
  photo_px.x += dx_px * scale;
  photo_px.y += dy_px * scale;
  sherd_photo_canvas_move_mark (self, self->held_mark, photo_px, FALSE);
}

void
sherd_photo_canvas_drag (SherdPhotoCanvas *self, SherdPoint widget_px, GdkModifierType state)
{
  const double dx_px = widget_px.x - self->dragged_widget_px.x, dy_px = widget_px.y - self->dragged_widget_px.y;

  if (!self->dragged &&
      hypot (widget_px.x - self->pressed_widget_px.x, widget_px.y - self->pressed_widget_px.y) < CLICK_PX)
    return;
  self->dragged = TRUE;
  self->dragged_widget_px = self->pointer_widget_px = widget_px;
  if (self->press == SHERD_PHOTO_PRESS_PAN)
    {
      self->fitted = FALSE;
      sherd_photo_view_pan (&self->view, dx_px, dy_px);
      sherd_photo_canvas_view_changed (self);
    }
  else if (self->press != SHERD_PHOTO_PRESS_NONE)
    drag_mark (self, dx_px, dy_px, (state & GDK_SHIFT_MASK) != 0);
  update_cursor (self);
}

static void
click (SherdPhotoCanvas *self)
{
  const SherdPoint photo_px = sherd_photo_view_to_photo (&self->view, self->pressed_widget_px);
  const int outline = sherd_photo_canvas_find_outline (self, photo_px);

  if (outline >= 0)
    sherd_photo_canvas_activate_outline (self, (guint)outline);
  else
    gtk_widget_grab_focus (GTK_WIDGET (self));
}

/* The press ends last: while it lasts, giving something the focus does not move the picture under the pointer. */
void
sherd_photo_canvas_release (SherdPhotoCanvas *self)
{
  SherdPoint photo_px;

  if (self->press == SHERD_PHOTO_PRESS_PLACE)
    {
      sherd_photo_canvas_snap_if_wanted (self, self->held_mark);
      sherd_photo_canvas_finish_placing (self, self->held_mark);
    }
  else if (self->press == SHERD_PHOTO_PRESS_MARK && self->dragged)
    {
      sherd_photo_canvas_snap_if_wanted (self, self->held_mark);
      if (sherd_photo_canvas_get_mark (self, self->held_mark, &photo_px))
        sherd_photo_canvas_move_mark (self, self->held_mark, photo_px, TRUE);
    }
  else if (self->press == SHERD_PHOTO_PRESS_PAN && !self->dragged && !self->space_held)
    click (self);
  self->press = SHERD_PHOTO_PRESS_NONE;
  sherd_photo_canvas_update_loupe (self);
  update_cursor (self);
}

/* Lets go of what is in hand and puts it back where it was. */
void
sherd_photo_canvas_let_go (SherdPhotoCanvas *self)
{
  const SherdPhotoPress press = self->press;

  self->press = SHERD_PHOTO_PRESS_NONE;
  if (press == SHERD_PHOTO_PRESS_PLACE)
    sherd_photo_canvas_unset_mark (self, self->held_mark);
  else if (press == SHERD_PHOTO_PRESS_MARK && self->dragged)
    sherd_photo_canvas_move_mark (self, self->held_mark, self->held_from_photo_px, TRUE);
  sherd_photo_canvas_update_loupe (self);
  update_cursor (self);
}

void
sherd_photo_canvas_point (SherdPhotoCanvas *self, SherdPoint widget_px, gboolean inside)
{
  const SherdPoint photo_px = sherd_photo_view_to_photo (&self->view, widget_px);

  self->pointer_widget_px = widget_px;
  self->pointer_inside = inside && sherd_photo_canvas_has_photo (self) && photo_px.x >= 0.0 && photo_px.y >= 0.0 &&
                         photo_px.x < self->view.photo_width_px && photo_px.y < self->view.photo_height_px;
  self->mark_in_middle = self->mark_in_middle && !inside;
  sherd_photo_canvas_update_loupe (self);
  sherd_photo_canvas_point_in_twin (self);
  g_signal_emit (self, sherd_photo_canvas_signals[SHERD_PHOTO_CANVAS_POINTER_MOVED], 0, photo_px.x, photo_px.y,
                 self->pointer_inside);
}

/* A wheel zooms, with Shift it moves sideways; two fingers on a touchpad move, with Control they zoom. */
void
sherd_photo_canvas_scroll (SherdPhotoCanvas *self, double dx, double dy, GdkScrollUnit unit, GdkModifierType state)
{
  const gboolean touchpad = unit == GDK_SCROLL_UNIT_SURFACE;
  const double zoom = self->zoom_tick_id ? self->zoom_goal : self->view.zoom;

  if (!sherd_photo_canvas_has_photo (self))
    return;
  if ((touchpad && !(state & GDK_CONTROL_MASK)) || (state & GDK_SHIFT_MASK))
    {
      const double step_px = touchpad ? 1.0 : PAN_KEY_PX;
      const gboolean sideways = !touchpad && dx == 0.0;

      sherd_photo_canvas_finish_zoom (self);
      self->fitted = FALSE;
      sherd_photo_view_pan (&self->view, -step_px * (sideways ? dy : dx), sideways ? 0.0 : -step_px * dy);
      sherd_photo_canvas_view_changed (self);
      return;
    }
  sherd_photo_canvas_zoom_to (self, zoom * exp2 (-dy / (touchpad ? TOUCHPAD_PX_TO_DOUBLE : NOTCHES_TO_DOUBLE)),
                              self->pointer_widget_px);
}

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, SherdPhotoCanvas *self)
{
  sherd_photo_canvas_press (self, (SherdPoint){ x, y },
                            gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture)));
}

static void
drag_update_cb (GtkGestureDrag *gesture, double dx, double dy, SherdPhotoCanvas *self)
{
  double x, y;

  if (gtk_gesture_drag_get_start_point (gesture, &x, &y))
    sherd_photo_canvas_drag (self, (SherdPoint){ x + dx, y + dy },
                             gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture)));
}

static void
drag_end_cb (GtkGestureDrag *gesture, double dx, double dy, SherdPhotoCanvas *self)
{
  const GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  self->free_hand = (state & GDK_ALT_MASK) != 0;
  sherd_photo_canvas_release (self);
  self->free_hand = FALSE;
}

static void
drag_cancel_cb (GtkGesture *gesture, GdkEventSequence *sequence, SherdPhotoCanvas *self)
{
  sherd_photo_canvas_let_go (self);
}

static void
pinch_begin_cb (GtkGesture *gesture, GdkEventSequence *sequence, SherdPhotoCanvas *self)
{
  sherd_photo_canvas_let_go (self);
  self->pinch_zoom = self->view.zoom;
}

static void
pinch_cb (GtkGestureZoom *gesture, double scale, SherdPhotoCanvas *self)
{
  SherdPoint middle_px;

  if (!sherd_photo_canvas_has_photo (self) ||
      !gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &middle_px.x, &middle_px.y))
    return;
  self->fitted = FALSE;
  sherd_photo_view_hold (&self->view, self->pinch_zoom * scale, sherd_photo_view_to_photo (&self->view, middle_px),
                         middle_px);
  sherd_photo_canvas_view_changed (self);
}

static void
motion_cb (GtkEventControllerMotion *controller, double x, double y, SherdPhotoCanvas *self)
{
  sherd_photo_canvas_point (self, (SherdPoint){ x, y }, TRUE);
}

static void
leave_cb (GtkEventControllerMotion *controller, SherdPhotoCanvas *self)
{
  sherd_photo_canvas_point (self, self->pointer_widget_px, FALSE);
}

static gboolean
scroll_cb (GtkEventControllerScroll *controller, double dx, double dy, SherdPhotoCanvas *self)
{
  sherd_photo_canvas_scroll (self, dx, dy, gtk_event_controller_scroll_get_unit (controller),
                             gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller)));
  return GDK_EVENT_STOP;
}

/* Keyboard */

static gboolean
find_direction (guint keyval, int *dx, int *dy)
{
  *dx = (keyval == GDK_KEY_Right || keyval == GDK_KEY_KP_Right) - (keyval == GDK_KEY_Left || keyval == GDK_KEY_KP_Left);
  *dy = (keyval == GDK_KEY_Down || keyval == GDK_KEY_KP_Down) - (keyval == GDK_KEY_Up || keyval == GDK_KEY_KP_Up);
  return *dx != 0 || *dy != 0;
}

static const char *
find_view_action (guint keyval)
{
  switch (keyval)
    {
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
      return "view.zoom-in";
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      return "view.zoom-out";
    case GDK_KEY_0:
    case GDK_KEY_KP_0:
      return "view.fit";
    case GDK_KEY_1:
    case GDK_KEY_KP_1:
      return "view.one-to-one";
    default:
      return NULL;
    }
}

static void
aim_in_middle (SherdPhotoCanvas *self)
{
  self->mark_in_middle = self->marking;
  sherd_photo_canvas_update_loupe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
pan_by_key (SherdPhotoCanvas *self, int dx, int dy, GdkModifierType state)
{
  const double step_px = state & GDK_SHIFT_MASK ? PAN_KEY_FAR_PX : state & GDK_CONTROL_MASK ? 1.0 : PAN_KEY_PX;

  sherd_photo_canvas_finish_zoom (self);
  self->fitted = FALSE;
  aim_in_middle (self);
  sherd_photo_view_pan (&self->view, -dx * step_px, -dy * step_px);
  sherd_photo_canvas_view_changed (self);
}

static void
press_arrow (SherdPhotoCanvas *self, int dx, int dy, GdkModifierType state)
{
  const int mark = sherd_photo_canvas_get_focused_mark (self);
  const double step_px = state & GDK_SHIFT_MASK ? NUDGE_FAR_PX : state & GDK_CONTROL_MASK ? NUDGE_FINE_PX : NUDGE_PX;

  if (mark >= 0)
    sherd_photo_canvas_nudge_mark (self, (guint)mark, dx * step_px, dy * step_px, FALSE);
  else if (sherd_photo_canvas_get_focused_outline (self) >= 0)
    sherd_photo_canvas_focus_neighbour (self, dx, dy);
  else
    pan_by_key (self, dx, dy, state);
}

/* Puts the next mark in the middle, ready to be moved with the arrow keys. */
static gboolean
place_by_key (SherdPhotoCanvas *self)
{
  return self->marking && sherd_photo_canvas_place_next (
                            self, sherd_photo_view_to_photo (&self->view, sherd_photo_canvas_get_middle (self)));
}

static gboolean
press_enter (SherdPhotoCanvas *self)
{
  const int outline = sherd_photo_canvas_get_focused_outline (self);

  if (outline < 0)
    return place_by_key (self);
  sherd_photo_canvas_activate_outline (self, (guint)outline);
  return TRUE;
}

static gboolean
press_space (SherdPhotoCanvas *self)
{
  if (sherd_photo_canvas_get_focused_outline (self) >= 0)
    return press_enter (self);
  self->space_held = TRUE;
  update_cursor (self);
  return TRUE;
}

static gboolean
press_delete (SherdPhotoCanvas *self)
{
  const int mark = sherd_photo_canvas_get_focused_mark (self);

  if (mark < 0)
    return FALSE;
  sherd_photo_canvas_remove_mark (self, (guint)mark);
  return TRUE;
}

/* Ends whatever is going on, one thing a time. */
static gboolean
press_escape (SherdPhotoCanvas *self)
{
  if (self->press != SHERD_PHOTO_PRESS_NONE)
    sherd_photo_canvas_let_go (self);
  else if (self->marking)
    sherd_photo_canvas_end_marking (self);
  else if (!gtk_widget_has_focus (GTK_WIDGET (self)))
    gtk_widget_grab_focus (GTK_WIDGET (self));
  else if (self->selected_outline >= 0)
    sherd_photo_canvas_select_outline (self, -1);
  else
    return FALSE;
  return TRUE;
}

gboolean
sherd_photo_canvas_key_down (SherdPhotoCanvas *self, guint keyval, GdkModifierType state)
{
  const char *action = find_view_action (keyval);
  int dx, dy;

  if (state & GDK_ALT_MASK)
    return FALSE;
  if (action)
    return gtk_widget_activate_action (GTK_WIDGET (self), action, NULL);
  if (find_direction (keyval, &dx, &dy))
    {
      press_arrow (self, dx, dy, state);
      return TRUE;
    }
  switch (keyval)
    {
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      return press_enter (self);
    case GDK_KEY_space:
      return press_space (self);
    case GDK_KEY_Delete:
    case GDK_KEY_BackSpace:
      return press_delete (self);
    case GDK_KEY_Escape:
      return press_escape (self);
    case GDK_KEY_s:
    case GDK_KEY_S:
      return !(state & GDK_CONTROL_MASK) && sherd_photo_canvas_press_snap (self);
    default:
      return FALSE;
    }
}

void
sherd_photo_canvas_key_up (SherdPhotoCanvas *self, guint keyval)
{
  int dx, dy;

  if (keyval == GDK_KEY_space)
    self->space_held = FALSE;
  else if (find_direction (keyval, &dx, &dy))
    sherd_photo_canvas_finish_nudge (self);
  update_cursor (self);
}

static gboolean
key_pressed_cb (GtkEventControllerKey *controller,
                guint keyval,
                guint keycode,
                GdkModifierType state,
                SherdPhotoCanvas *self)
{
  return sherd_photo_canvas_key_down (self, keyval, state);
}

static void
key_released_cb (GtkEventControllerKey *controller,
                 guint keyval,
                 guint keycode,
                 GdkModifierType state,
                 SherdPhotoCanvas *self)
{
  sherd_photo_canvas_key_up (self, keyval);
}

static void
focus_left_cb (GtkEventControllerFocus *controller, SherdPhotoCanvas *self)
{
  self->space_held = FALSE;
  update_cursor (self);
}

/* Where Tab stops: the canvas, every placed mark, and the outlines as one stop, in which arrow keys go on. */
static GPtrArray *
list_stops (SherdPhotoCanvas *self)
{
  GPtrArray *stops = g_ptr_array_new ();
  const int outline = MAX (MAX (sherd_photo_canvas_get_focused_outline (self), self->focused_outline), 0);

  g_ptr_array_add (stops, self);
  for (guint i = 0; i < self->marks->len; i++)
    if (sherd_photo_canvas_get_mark (self, i, NULL))
      g_ptr_array_add (stops, g_ptr_array_index (self->marks, i));
  if ((guint)outline < self->outlines->len)
    g_ptr_array_add (stops, g_ptr_array_index (self->outlines, outline));
  return stops;
}

gboolean
sherd_photo_canvas_move_focus (GtkWidget *widget, GtkDirectionType direction)
{
  SherdPhotoCanvas *self = SHERD_PHOTO_CANVAS (widget);
  g_autoptr (GPtrArray) stops = list_stops (self);
  GtkWidget *focus = gtk_widget_has_focus (widget) ? widget : gtk_widget_get_focus_child (widget);
  const gboolean back = direction == GTK_DIR_TAB_BACKWARD;
  guint index;

  if (!focus)
    return gtk_widget_grab_focus (g_ptr_array_index (stops, back ? stops->len - 1 : 0));
  if ((!back && direction != GTK_DIR_TAB_FORWARD) || !g_ptr_array_find (stops, focus, &index))
    return FALSE;
  if (back ? index == 0 : index + 1 == stops->len)
    return FALSE;
  return gtk_widget_grab_focus (g_ptr_array_index (stops, back ? index - 1 : index + 1));
}

void
sherd_photo_canvas_init_input (SherdPhotoCanvas *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkGesture *drag = gtk_gesture_drag_new (), *pinch = gtk_gesture_zoom_new ();
  GtkEventController *motion = gtk_event_controller_motion_new (), *key = gtk_event_controller_key_new ();
  GtkEventController *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), 0);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (drag_end_cb), self);
  g_signal_connect (drag, "cancel", G_CALLBACK (drag_cancel_cb), self);
  g_signal_connect (pinch, "begin", G_CALLBACK (pinch_begin_cb), self);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (pinch_cb), self);
  g_signal_connect (motion, "enter", G_CALLBACK (motion_cb), self);
  g_signal_connect (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect (motion, "leave", G_CALLBACK (leave_cb), self);
  g_signal_connect (scroll, "scroll", G_CALLBACK (scroll_cb), self);
  g_signal_connect (key, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  g_signal_connect (key, "key-released", G_CALLBACK (key_released_cb), self);
  g_signal_connect (focus, "leave", G_CALLBACK (focus_left_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (pinch));
  gtk_widget_add_controller (widget, motion);
  gtk_widget_add_controller (widget, scroll);
  gtk_widget_add_controller (widget, key);
  gtk_widget_add_controller (widget, focus);
}
