/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/built-ins.h"

static gpointer
read_table (gpointer data)
{
  return sherd_built_in_materials_new ();
}

/**
 * sherd_built_ins:
 *
 * Returns: (transfer none): the built-in materials (SherdMaterialRecord) in the order of their table
 */
GPtrArray *
sherd_built_ins (void)
{
  static GOnce once = G_ONCE_INIT;

  return g_once (&once, read_table, NULL);
}

/**
 * sherd_built_ins_find:
 * @id: of a built-in material
 *
 * Returns: (nullable) (transfer none): what the table says of it
 */
const SherdMaterialRecord *
sherd_built_ins_find (const char *id)
{
  return sherd_built_in_materials_find (sherd_built_ins (), id);
}
