/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/lab.h"

G_BEGIN_DECLS

char *sherd_lab_text (const SherdLab *lab);

G_END_DECLS
