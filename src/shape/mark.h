/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/point.h"

G_BEGIN_DECLS

#define SHERD_SHAPE_ERROR (sherd_shape_error_quark ())
GQuark sherd_shape_error_quark (void);

typedef enum
{
  SHERD_SHAPE_ERROR_FEW_MARKS,  /* fewer than four marks */
  SHERD_SHAPE_ERROR_DEGENERATE, /* three marks in a line, twice the same mark, or marks in the wrong order */
  SHERD_SHAPE_ERROR_SIZE,       /* a size that cannot be */
  SHERD_SHAPE_ERROR_PROFILE,    /* a profile, wall or outline that cannot be */
  SHERD_SHAPE_ERROR_TEXT,       /* a text that is no profile */
  SHERD_SHAPE_ERROR_POSE        /* marks that fix no camera */
} SherdShapeError;

/* A plane is placed by four marks. */
#define SHERD_FEWEST_MARKS 4u

/* One point known on the piece and seen in the photograph. */
typedef struct
{
  SherdPoint piece_mm;
  SherdPoint photo_px; /* upright photograph, (0, 0) is the outer corner of the top left pixel */
} SherdMark;

gboolean sherd_marks_check (const SherdMark *marks, gsize n_marks, double mark_sd_px, GError **error);

G_END_DECLS
