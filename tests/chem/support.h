/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A value of tests/data/chem/check-values.csv. */
typedef struct
{
  char *quantity;
  double value;
  double tolerance;
} CheckValue;

/* (transfer full): by id */
GHashTable *check_values_new (void);
const CheckValue *check_value (GHashTable *values, const char *id);
/* (transfer full): fields of a row of CSV; quotes may hold commas */
GStrv split_row (const char *row);
/* (transfer full): the rows of a file in tests/data/chem, its head first */
GStrv rows_of_file (const char *name);
void assert_near (GHashTable *values, const char *id, double found);

G_END_DECLS
