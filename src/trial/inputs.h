/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/photograph.h"

G_BEGIN_DECLS

/* (transfer full): SHA-256 of all that a measurement of @photograph rests on */
char *sherd_inputs_dup_sha256 (SherdPhotograph *photograph);

G_END_DECLS
