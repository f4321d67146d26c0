/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "chem/melt.h"

G_BEGIN_DECLS

/* Whether a paint can melt in the firing that is planned: in words, and where it stands in its system. Signal:
 * "changed"
 * (): another firing is planned. */
#define SHERD_TYPE_MELT_VIEW (sherd_melt_view_get_type ())
G_DECLARE_FINAL_TYPE (SherdMeltView, sherd_melt_view, SHERD, MELT_VIEW, GtkWidget)

void sherd_melt_view_show (SherdMeltView *self, const SherdMixFacts *facts);

G_END_DECLS
