/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "photo/exif.h"
#include "photo/tiff-source.h"

G_BEGIN_DECLS

SherdExifSpace sherd_tiff_exif_read (SherdTiffSource *source, SherdPhotoInfo *info);

G_END_DECLS
