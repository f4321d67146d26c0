/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/built-in-materials.h"

G_BEGIN_DECLS

/* (transfer none): the built-in materials, read once: of SherdMaterialRecord */
GPtrArray *sherd_built_ins (void);
/* (nullable) (transfer none): by id */
const SherdMaterialRecord *sherd_built_ins_find (const char *id);

G_END_DECLS
