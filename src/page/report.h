/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/comparison.h"

G_BEGIN_DECLS

#define SHERD_PAGE_ERROR (sherd_page_error_quark ())
GQuark sherd_page_error_quark (void);

typedef enum
{
  SHERD_PAGE_ERROR_WRITE /* the file cannot be written */
} SherdPageError;

/* The results of a comparison as an A4 document: both photographs with their zones, and the table. */
gboolean sherd_report_write_pdf (SherdTrial *trial, SherdComparison *comparison, const char *path, GError **error);

G_END_DECLS
