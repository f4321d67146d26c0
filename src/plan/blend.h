/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "plan/error.h"

G_BEGIN_DECLS

#define SHERD_BLEND_MOST_PAINTS 4

/* One mixture of a blend: whole parts of each paint, so that shares are exact. */
typedef struct
{
  guint parts[SHERD_BLEND_MOST_PAINTS]; /* 0 for paints that are not in it */
  guint whole;                          /* their sum */
  guint row;                            /* where it stands when the blend is laid out as it is drawn, from 0 */
  guint column;
} SherdBlendMember;

/* Mixtures of two to four paints, in reading order. */
typedef struct
{
  guint n_paints;
  SherdBlendMember *members;
  guint n_members;
} SherdBlend;

void sherd_blend_free (SherdBlend *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdBlend, sherd_blend_free)

SherdBlend *sherd_blend_line (guint n_steps, GError **error);
SherdBlend *sherd_blend_line_at (const double *shares_pct, guint n_shares, GError **error);
SherdBlend *sherd_blend_triaxial (guint n_steps, GError **error);
SherdBlend *sherd_blend_square (guint n_steps_across, guint n_steps_down, GError **error);
SherdBlend *sherd_blend_centroid (guint n_paints, GError **error);

/* How many paints are in it; 1 for a paint by itself. */
guint sherd_blend_count_paints (const SherdBlendMember *member);
double sherd_blend_share (const SherdBlendMember *member, guint paint);
double sherd_blend_share_pct (const SherdBlendMember *member, guint paint);
double sherd_blend_weigh (const SherdBlendMember *member, double total_g, double readability_g, double *grams);
char **sherd_blend_codes (const char *stem, guint n_codes, const char *const *taken);

G_END_DECLS
