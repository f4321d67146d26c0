/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

void sherd_cholesky_3 (const double *covariance, double root[3][3]);

G_END_DECLS
