/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib-object.h>

#include "shape/outline.h"
#include "shape/profile.h"

G_BEGIN_DECLS

/* A round hole through a flat piece; mm on its face. */
typedef struct
{
  double x_mm; /* of its middle */
  double y_mm;
  double diameter_mm;
} SherdHole;

/* What a piece looks like beyond width, height and thickness. A value: copy it, change the copy by the functions below,
 * give it to sherd_trial_set_form (). */
typedef struct
{
  SherdProfilePoint *outside; /* vessel: from the foot to the lip */
  gsize n_outside;
  SherdProfilePoint *inside; /* vessel: from the lip to the middle of the floor; none: the wall gives it */
  gsize n_inside;
  double floor_mm;    /* vessel: from the table up to the inside's middle; 0: as thick as the wall */
  SherdOutline *edge; /* sherd: (nullable) mm, y down, within x ≥ 0 and y ≥ 0 */
  SherdHole *holes;   /* flat pieces */
  gsize n_holes;
} SherdForm;

#define SHERD_TYPE_FORM (sherd_form_get_type ())
GType sherd_form_get_type (void);

/* Our choice: more points or holes than this no hand sets. */
#define SHERD_FORM_MAX_POINTS 500u
#define SHERD_FORM_MAX_HOLES 100u

/* (transfer full): plain */
SherdForm *sherd_form_new (void);
SherdForm *sherd_form_copy (const SherdForm *form);
void sherd_form_free (SherdForm *form);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdForm, sherd_form_free)
/* @first, @second: (nullable) */
gboolean sherd_form_equal (const SherdForm *first, const SherdForm *second);

/* Copies of what is given. */
void sherd_form_set_outside (SherdForm *form, const SherdProfilePoint *points, gsize n_points);
void sherd_form_set_inside (SherdForm *form, const SherdProfilePoint *points, gsize n_points);
void sherd_form_set_edge (SherdForm *form, const SherdOutline *edge);
void sherd_form_set_holes (SherdForm *form, const SherdHole *holes, gsize n_holes);

G_END_DECLS
