/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* The edits of a potter, each one undoable step in words. All check first and change nothing when they refuse:
 * SHERD_TRIAL_ERROR_VALUE, _DUPLICATE or _IN_USE. @continued: joins the edit before it when that was the same action on
 * the same thing (dragging, arrow keys); sherd_trial_seal_edit () ends it. */

/* (transfer none) */
SherdPaint *sherd_trial_add_paint (SherdTrial *trial, const char *code, const char *name, GError **error);
gboolean sherd_trial_set_paint_code (SherdTrial *trial, SherdPaint *paint, const char *code, GError **error);
void sherd_trial_set_paint_name (SherdTrial *trial, SherdPaint *paint, const char *name);
void sherd_trial_set_paint_note (SherdTrial *trial, SherdPaint *paint, const char *note);
void sherd_trial_set_paint_kind (SherdTrial *trial, SherdPaint *paint, SherdPaintKind kind);
/* @batch_g: NAN for none */
gboolean sherd_trial_set_paint_batch_g (SherdTrial *trial,
                                        SherdPaint *paint,
                                        double batch_g,
                                        gboolean continued,
                                        GError **error);
/* Makes a revision when the paint as it was has been fired. */
gboolean sherd_trial_set_recipe (SherdTrial *trial,
                                 SherdPaint *paint,
                                 const SherdRecipe *recipe,
                                 gboolean continued,
                                 GError **error);
/* (transfer none): with a code of its own, behind it */
SherdPaint *sherd_trial_duplicate_paint (SherdTrial *trial, SherdPaint *paint);
/* (transfer full): @code, or with a number behind when a paint has it */
char *sherd_trial_dup_free_code (SherdTrial *trial, const char *code);
/* Refused while zones carry it or paints hold it. */
gboolean sherd_trial_remove_paint (SherdTrial *trial, SherdPaint *paint, GError **error);
/* Gives all its zones @other (nullable: they become bare) and removes @paint. Refused while paints hold it. */
gboolean sherd_trial_replace_paint (SherdTrial *trial, SherdPaint *paint, SherdPaint *other, GError **error);
/* How many zones carry it. */
guint sherd_trial_count_paint_zones (SherdTrial *trial, SherdPaint *paint);

/* (transfer none) */
SherdMaterial *sherd_trial_add_material (SherdTrial *trial, const SherdMaterialRecord *record, GError **error);
gboolean sherd_trial_set_material (SherdTrial *trial,
                                   SherdMaterial *material,
                                   const SherdMaterialRecord *record,
                                   gboolean continued,
                                   GError **error);
/* Refused while a paint names it, be it in an earlier revision. */
gboolean sherd_trial_remove_material (SherdTrial *trial, SherdMaterial *material, GError **error);
/* (transfer none): another lot: without lot, stock and weighed spoon */
SherdMaterial *sherd_trial_duplicate_material (SherdTrial *trial, SherdMaterial *material);
/* (transfer full): @name, or with a number behind when a material has it */
char *sherd_trial_dup_free_material_name (SherdTrial *trial, const char *name);

/* (transfer none): a tile with the sides "face" and "back"; @thickness_mm 0 when not known */
SherdPiece *sherd_trial_add_tile (SherdTrial *trial,
                                  const char *name,
                                  double width_mm,
                                  double height_mm,
                                  double thickness_mm,
                                  SherdClayState state,
                                  GError **error);
gboolean sherd_trial_set_piece_name (SherdTrial *trial, SherdPiece *piece, const char *name, GError **error);
/* Refused when a zone would lie outside. */
gboolean sherd_trial_set_tile_size (SherdTrial *trial,
                                    SherdPiece *piece,
                                    double width_mm,
                                    double height_mm,
                                    double thickness_mm,
                                    gboolean continued,
                                    GError **error);
void sherd_trial_set_piece_state (SherdTrial *trial, SherdPiece *piece, SherdClayState state);
/* With its photographs and their measurements. */
void sherd_trial_remove_piece (SherdTrial *trial, SherdPiece *piece);
void sherd_trial_set_side_ground (SherdTrial *trial, SherdSide *side, const char *ground);

/* Lays rows × columns of zones with codes A1, A2, …; a zone whose code was there before keeps id, paint, coats,
 * replicate, ground and lock, so a grid can be re-laid without losing which paint is where. */
gboolean sherd_trial_set_zone_grid (SherdTrial *trial,
                                    SherdPiece *piece,
                                    SherdSide *side,
                                    const SherdGrid *grid,
                                    GError **error);
/* (transfer none) */
SherdZone *sherd_trial_add_zone (SherdTrial *trial,
                                 SherdPiece *piece,
                                 SherdSide *side,
                                 const char *code,
                                 const SherdRectangle *rectangle,
                                 GError **error);
void sherd_trial_remove_zone (SherdTrial *trial, SherdSide *side, SherdZone *zone);
gboolean
sherd_trial_set_zone_code (SherdTrial *trial, SherdSide *side, SherdZone *zone, const char *code, GError **error);
gboolean sherd_trial_set_zone_rectangle (SherdTrial *trial,
                                         SherdPiece *piece,
                                         SherdZone *zone,
                                         const SherdRectangle *rectangle,
                                         gboolean continued,
                                         GError **error);
/* @polygon: (nullable): back to the rectangle */
gboolean sherd_trial_set_zone_polygon (SherdTrial *trial,
                                       SherdPiece *piece,
                                       SherdZone *zone,
                                       const SherdOutline *polygon,
                                       gboolean continued,
                                       GError **error);
/* @code: of the paint; made when no paint has it yet; NULL or "" makes the zones bare */
gboolean sherd_trial_set_zones_paint (SherdTrial *trial,
                                      SherdZone *const *zones,
                                      gsize n_zones,
                                      const char *code,
                                      GError **error);
gboolean
sherd_trial_set_zone_coats (SherdTrial *trial, SherdZone *zone, guint coats, gboolean continued, GError **error);
gboolean sherd_trial_set_zone_replicate (SherdTrial *trial, SherdZone *zone, guint replicate, GError **error);
/* @ground: (nullable) */
void sherd_trial_set_zone_ground (SherdTrial *trial, SherdZone *zone, const char *ground);
void sherd_trial_set_zone_locked (SherdTrial *trial, SherdZone *zone, gboolean locked);

/* @photograph comes from sherd_photograph_new_from_file () and gets its id here. The file is copied into NAME.photos at
 * once when the trial has a file, else at the first save; the same picture is stored once. */
gboolean sherd_trial_add_photograph (SherdTrial *trial,
                                     SherdPhotograph *photograph,
                                     SherdPiece *piece,
                                     SherdSide *side,
                                     const char *stage,
                                     GError **error);
/* With its measurements. The picture's file stays. */
void sherd_trial_remove_photograph (SherdTrial *trial, SherdPhotograph *photograph);
gboolean
sherd_trial_set_photograph_stage (SherdTrial *trial, SherdPhotograph *photograph, const char *stage, GError **error);
gboolean sherd_trial_set_photograph_side (SherdTrial *trial,
                                          SherdPhotograph *photograph,
                                          SherdPiece *piece,
                                          SherdSide *side,
                                          GError **error);
/* Marks on the side, in mm and upright photograph px; any number, measuring needs four. */
gboolean sherd_trial_set_marks (SherdTrial *trial,
                                SherdPhotograph *photograph,
                                const SherdMark *marks,
                                gsize n_marks,
                                gboolean continued,
                                GError **error);
/* Marks in the frame of the reference. */
gboolean sherd_trial_set_reference_marks (SherdTrial *trial,
                                          SherdPhotograph *photograph,
                                          const SherdMark *marks,
                                          gsize n_marks,
                                          gboolean continued,
                                          GError **error);
/* Marks of another reference do not fit the new one and are dropped. */
void sherd_trial_set_reference (SherdTrial *trial, SherdPhotograph *photograph, SherdReference *reference);

G_END_DECLS
