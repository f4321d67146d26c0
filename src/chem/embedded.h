/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Data files as text that ends with a zero. Written by embed.py. */
extern const unsigned char sherd_embedded_materials[];
extern const unsigned char sherd_embedded_low_melting[];

G_END_DECLS
