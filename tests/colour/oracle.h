/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/lab.h"

#include <lcms2.h>

G_BEGIN_DECLS

/* What LittleCMS, an independent library, makes of the same colours. */
SherdXyz oracle_srgb_to_xyz (const double encoded[3]);
SherdLab oracle_srgb_to_lab (const double encoded[3]);
cmsCIELab oracle_lab (const SherdLab *lab);

SherdLab draw_lab (GRand *random);
void assert_near (const double *got, const double *wanted, gsize n, double tolerance);
void assert_lab_near (const SherdLab *got, const SherdLab *wanted, double tolerance);

/* NULL with the test skipped where the shared folder is absent. */
char *shared_path_or_skip (const char *path);

G_END_DECLS
