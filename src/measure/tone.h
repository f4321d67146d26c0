/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/correction.h"

G_BEGIN_DECLS

#define SHERD_TONE_TERMS 4
#define SHERD_TONE_STEPS 1024

/* A camera's contrast curve undone: the same in all channels. */
typedef struct
{
  gboolean bent; /* FALSE: the photograph is linear as far as the chart can tell */
  double terms[SHERD_TONE_TERMS];
  float table[SHERD_TONE_STEPS + 1]; /* by the square root of linear light, 0…1 */
} SherdTone;

void sherd_tone_init_straight (SherdTone *tone);
void sherd_tone_init (SherdTone *tone, const double terms[SHERD_TONE_TERMS]);
float sherd_tone_apply (const SherdTone *tone, float linear);
void sherd_tone_apply_all (const SherdTone *tone, float *linear, gsize n);
void sherd_tone_fit (SherdTone *tone,
                     const SherdRgb *seen,
                     const SherdRgb *light,
                     const SherdLab *reference,
                     gsize n_patches);

G_END_DECLS
