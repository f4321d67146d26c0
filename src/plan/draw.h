/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>
#include <gsl/gsl_rng.h>

G_BEGIN_DECLS

G_DEFINE_AUTOPTR_CLEANUP_FUNC (gsl_rng, gsl_rng_free)

/* (transfer full): draws that repeat for the same @seed */
gsl_rng *sherd_draw_new (guint64 seed);
void sherd_draw_shuffle (gsl_rng *draw, guint *items, gsize n_items);

G_END_DECLS
