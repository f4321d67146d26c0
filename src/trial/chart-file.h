/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "colour/chart.h"

G_BEGIN_DECLS

SherdChart *sherd_chart_file_load (GFile *file, GError **error);

G_END_DECLS
