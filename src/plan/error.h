/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define SHERD_PLAN_ERROR (sherd_plan_error_quark ())
GQuark sherd_plan_error_quark (void);

typedef enum
{
  SHERD_PLAN_ERROR_SHORT, /* too few zones for what is to be laid */
  SHERD_PLAN_ERROR_VALUE  /* a count or share that cannot be: no paints, no steps, a share above the whole */
} SherdPlanError;

G_END_DECLS
