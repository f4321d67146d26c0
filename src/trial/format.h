/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/shift.h"
#include "trial/piece.h"

G_BEGIN_DECLS

/* Numbers and words for people: the window, the command line and the printed page all use these. Locale's decimal mark,
 * U+2212 as minus. For files (JSON, CSV) use sherd_format_exact (). All (transfer full). */

/* @decimals places, rounded half away from zero; "not known" for NaN or infinity */
char *sherd_format_number (double value, guint decimals);
/* "6.8 ± 1.5": @expanded_u to two significant digits, the value to the same decimals (uncertainty.md, display rules).
 * With no usable uncertainty the value is given to one decimal, alone. */
char *sherd_format_uncertain (double value, double expanded_u);
/* "42.1, 11.0, −3.2" */
char *sherd_format_lab (const SherdLab *lab);
/* "L* 42.1 ± 1.2, a* 11.0 ± 0.8, b* −3.2 ± 0.9"; standard uncertainties from the covariance, expanded by k = 2 */
char *sherd_format_lab_uncertain (const SherdLab *lab, const double covariance[3][3]);
/* "42.1, 11.0, −3.2" or "not measured"; @zone: (nullable) */
char *sherd_format_zone_colour (const SherdZoneColour *zone);
/* "6.8 ± 1.5", k = 2, or "not measured" */
char *sherd_format_shift (const SherdShift *shift);
/* "changed", "not proven" or "not measured" */
char *sherd_format_shift_verdict (const SherdShift *shift);
/* "94 %"; "cannot tell" below 0 or NaN */
char *sherd_format_frac (double frac);
/* "120 × 80 mm", without needless decimals */
char *sherd_format_size_mm (double width_mm, double height_mm);
/* SherdZoneFlags in words, joined by "; "; empty string for none */
char *sherd_format_zone_flags (guint flags);
/* "HB Hearth black", or "bare" for NULL */
char *sherd_format_paint (SherdPaint *paint);
/* "Unfired", "After firing 1, after rubbing" */
char *sherd_format_stage (const char *stage);
/* "Face", "Back", "Outside", "Inside", or the name as it is */
char *sherd_format_side (const char *name);
char *sherd_format_clay_state (SherdClayState state);
char *sherd_format_reference_kind (SherdReferenceKind kind);
/* The shortest decimal that reads back as the same double, always with ".", never a locale's mark. */
char *sherd_format_exact (double value);
/* "Spring\\u001b[31m": one line, in which what would steer a terminal is spelt out */
char *sherd_format_visible (const char *text);

G_END_DECLS
