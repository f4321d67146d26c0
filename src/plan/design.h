/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "plan/layout.h"

G_BEGIN_DECLS

/* Whether a layout can answer the question "does this matter?", worst first. */
typedef enum
{
  SHERD_TELL_SAME,    /* it is the same in all zones */
  SHERD_TELL_UNKNOWN, /* it is not known of some zones */
  SHERD_TELL_NOT,     /* it cannot be told from something else */
  SHERD_TELL_PARTLY,  /* some of its levels can be told from each other, some not */
  SHERD_TELL_WEAKLY,  /* it can, with a precision at least SHERD_WEAK_LOSS times worse than need be */
  SHERD_TELL_WELL
} SherdTell;

/* Our choice: 1.5 times the standard error is what 2.25 times the zones would make good. */
#define SHERD_WEAK_LOSS 1.5

/* Two factors that act together, more or less than each by itself would. */
typedef struct
{
  guint first;
  guint second;
} SherdFactorPair;

/* The answer for one factor; factors by number. */
typedef struct
{
  guint factor;
  SherdTell tell;
  double inflation;     /* variance inflation; of several levels, the geometric mean over their differences */
  double loss;          /* standard error ÷ that of a layout of as many zones in which each level stands as often as
                           the others, independent of all else, and scatter is known; INFINITY when it cannot be told */
  guint n_scatter_df;   /* degrees of freedom from which scatter can be judged */
  GArray *from;         /* guint: it cannot be told from these, taken together */
  gboolean from_piece;  /* it cannot be told from the piece: too few pieces */
  gboolean from_chance; /* it cannot be told from chance: nothing is left to judge scatter by */
  guint *groups;    /* of SHERD_TELL_PARTLY, by level: those of one group can be told from each other; G_MAXUINT for a
                       level that no zone has */
  GArray *provided; /* SherdFactorPair: it can be told provided that these do not act together */
  guint n_unknown;  /* zones of which it is not known */
} SherdVerdict;

typedef struct
{
  SherdVerdict *verdicts; /* one a factor, in their order */
  guint n_verdicts;
} SherdDesign;

SherdDesign *sherd_design_new (const SherdLayout *layout, gboolean with_pairs);
void sherd_design_free (SherdDesign *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdDesign, sherd_design_free)

/* (transfer full): a sentence for people, in their language */
char *sherd_design_describe (const SherdLayout *layout, const SherdVerdict *verdict);
/* (transfer full): names of factors, “side and coats” */
char *sherd_design_list_factors (const SherdLayout *layout, const GArray *factors);

G_END_DECLS
