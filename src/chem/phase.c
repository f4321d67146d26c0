/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/phase.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "chem/embedded.h"
#include "chem/refusal.h"

/* Our choice: our own table is a twentieth of it. */
#define MOST_BYTES 100000

enum
{
  COLUMN_SYSTEM,
  COLUMN_USE,
  COLUMN_KIND,
  COLUMN_PHASE,
  COLUMN_FIRST,
  COLUMN_SECOND,
  COLUMN_TEMPERATURE,
  COLUMN_LIMIT,
  COLUMN_SOURCE,
  COLUMN_KNOWN,
  N_COLUMNS
};

static void
clear_point (gpointer data)
{
  SherdPhasePoint *point = data;

  g_free (point->phase);
  g_free (point->source);
  g_free (point->known);
}

static void
system_free (gpointer data)
{
  SherdPhaseSystem *system = data;

  g_free (system->name);
  g_array_unref (system->points);
  g_free (system);
}

static gboolean G_GNUC_PRINTF (3, 4) refuse (guint line, GError **error, const char *format, ...)
{
  g_autofree char *reason = NULL;
  va_list arguments;

  va_start (arguments, format);
  reason = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  return sherd_refuse (error, SHERD_CHEM_ERROR_TABLE, _ ("Low-melting systems, line %u: %s"), line, reason);
}

static gboolean
find_oxide (const char *formula, SherdOxide *oxide)
{
  for (guint i = 0; i < SHERD_N_OXIDES; i++)
    if (strcmp (sherd_oxide_get_formula (i), formula) == 0)
      {
        *oxide = i;
        return TRUE;
      }
  return FALSE;
}

static SherdPhaseSystem *
system_new (const char *name, guint line, GError **error)
{
  g_auto (GStrv) formulas = g_strsplit (name, "-", 0);
  SherdPhaseSystem *system = g_new0 (SherdPhaseSystem, 1);

  system->name = g_strdup (name);
  system->points = g_array_new (FALSE, FALSE, sizeof (SherdPhasePoint));
  g_array_set_clear_func (system->points, clear_point);
  while (formulas[system->n_oxides] != NULL && system->n_oxides < G_N_ELEMENTS (system->oxides))
    if (!find_oxide (formulas[system->n_oxides], &system->oxides[system->n_oxides]))
      break;
    else
      system->n_oxides++;
  if (system->n_oxides > 0 && formulas[system->n_oxides] == NULL)
    return system;
  refuse (line, error, _ ("“%s” does not name one to three oxides."), name);
  system_free (system);
  return NULL;
}

static gboolean
take_kind (const char *text, SherdPhasePointKind *kind, guint line, GError **error)
{
  static const char *const words[] = { "melting", "eutectic", "incongruent", "liquidus", "lowest" };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (strcmp (text, words[i]) == 0)
      {
        *kind = i;
        return TRUE;
      }
  return refuse (line, error, _ ("“%s” is no kind of point."), text);
}

static gboolean
take_number (const char *text, double most, double *value, guint line, GError **error)
{
  char *end = NULL;

  *value = g_ascii_strtod (text, &end);
  if (end == text || *end != '\0' || !(*value >= 0.0 && *value <= most))
    return refuse (line, error, _ ("“%s” is not a number from 0 to %g."), text, most);
  return TRUE;
}

/* The third oxide's share is what the other two leave. */
static gboolean
take_place (GStrv fields, SherdPhasePoint *point, guint line, GError **error)
{
  double first_pct, second_pct;

  point->is_placed = *fields[COLUMN_FIRST] != '\0';
  if (!point->is_placed)
    return TRUE;
  if (!take_number (fields[COLUMN_FIRST], 100.0, &first_pct, line, error) ||
      !take_number (fields[COLUMN_SECOND], 100.0, &second_pct, line, error))
    return FALSE;
  if (first_pct + second_pct > 100.0 + 1e-9)
    return refuse (line, error, _ ("the shares sum to more than 100 %%."));
  point->mol_frac[0] = first_pct / 100.0;
  point->mol_frac[1] = second_pct / 100.0;
  point->mol_frac[2] = MAX (0.0, 1.0 - point->mol_frac[0] - point->mol_frac[1]);
  return TRUE;
}

static gboolean
take_use (const char *use, SherdPhaseSystem *system, const SherdPhasePoint *point, guint line, GError **error)
{
  const gboolean joined = strcmp (use, "liquidus") == 0, bound = strcmp (use, "bound") == 0;
  const guint n = system->points->len;

  if (!joined && !bound && strcmp (use, "invariant") != 0)
    return refuse (line, error, _ ("“%s” is no use of a point."), use);
  if (n > 0 && (joined != system->has_liquidus || bound != system->is_bound))
    return refuse (line, error, _ ("all points of one system have the same use."));
  system->has_liquidus = joined;
  system->is_bound = bound;
  if (joined && (!point->is_placed || system->n_oxides != 2 ||
                 (n > 0 && point->mol_frac[0] >= g_array_index (system->points, SherdPhasePoint, n - 1).mol_frac[0])))
    return refuse (line, error, _ ("points to be joined come in falling shares of the first of two oxides."));
  return TRUE;
}

static gboolean
read_row (GPtrArray *systems, const char *row, guint line, GError **error)
{
  g_auto (GStrv) fields = g_strsplit (row, ",", 0);
  SherdPhaseSystem *system = systems->len > 0 ? g_ptr_array_index (systems, systems->len - 1) : NULL;
  SherdPhasePoint point = { .kind = 0 };

  if (g_strv_length (fields) != N_COLUMNS)
    return refuse (line, error, _ ("there are not %u fields."), (guint)N_COLUMNS);
  if (system == NULL || strcmp (system->name, fields[COLUMN_SYSTEM]) != 0)
    {
      system = system_new (fields[COLUMN_SYSTEM], line, error);
      if (system == NULL)
        return FALSE;
      g_ptr_array_add (systems, system);
    }
  if (!take_kind (fields[COLUMN_KIND], &point.kind, line, error) || !take_place (fields, &point, line, error) ||
      !take_number (fields[COLUMN_TEMPERATURE], 3000.0, &point.temperature_c, line, error) ||
      !take_number (fields[COLUMN_LIMIT], 200.0, &point.limit_c, line, error) ||
      !take_use (fields[COLUMN_USE], system, &point, line, error))
    return FALSE;
  point.phase = g_strdup (fields[COLUMN_PHASE]);
  point.source = g_strdup (fields[COLUMN_SOURCE]);
  point.known = g_strdup (fields[COLUMN_KNOWN]);
  g_array_append_val (system->points, point);
  return TRUE;
}

static gboolean
check_systems (const GPtrArray *systems, guint last_line, GError **error)
{
  for (guint i = 0; i < systems->len; i++)
    {
      const SherdPhaseSystem *system = g_ptr_array_index (systems, i);

      if (system->points->len == 0 || (system->has_liquidus && system->points->len < 2))
        return refuse (last_line, error, _ ("the system “%s” has too few points."), system->name);
    }
  return systems->len > 0 || refuse (last_line, error, _ ("there are no rows."));
}

/**
 * sherd_phase_systems_new:
 * @text: a table as described in data/low-melting-systems.csv
 * @length: its bytes, or -1 when it ends with a zero
 * @error: SHERD_CHEM_ERROR_TABLE, naming the line
 *
 * Returns: (transfer full) (nullable): of SherdPhaseSystem, each with at least one point
 */
GPtrArray *
sherd_phase_systems_new (const char *text, gssize length, GError **error)
{
  const gsize n_bytes = length < 0 ? strlen (text) : (gsize)length;
  g_autofree char *copy = g_strndup (text, MIN (n_bytes, MOST_BYTES));
  g_auto (GStrv) lines = g_strsplit (copy, "\n", 0);
  g_autoptr (GPtrArray) systems = g_ptr_array_new_with_free_func (system_free);
  gboolean head_seen = FALSE;
  guint i;

  for (i = 0; lines[i] != NULL; i++)
    {
      if (*lines[i] == '#' || *lines[i] == '\0')
        continue;
      if (!head_seen)
        head_seen = TRUE;
      else if (!read_row (systems, lines[i], i + 1, error))
        return NULL;
    }
  return check_systems (systems, MAX (1, i), error) ? g_steal_pointer (&systems) : NULL;
}

/* Returns: (transfer full): those that come with the program; a test holds that they can be read */
GPtrArray *
sherd_phase_systems_new_built_in (void)
{
  return sherd_phase_systems_new ((const char *)sherd_embedded_low_melting, -1, NULL);
}

/* Returns: (nullable) (transfer none): the system of that name */
const SherdPhaseSystem *
sherd_phase_systems_find (const GPtrArray *systems, const char *name)
{
  for (guint i = 0; i < systems->len; i++)
    {
      const SherdPhaseSystem *system = g_ptr_array_index (systems, i);

      if (strcmp (system->name, name) == 0)
        return system;
    }
  return NULL;
}

static const SherdPhasePoint *
point_of (const SherdPhaseSystem *system, guint index)
{
  return &g_array_index (system->points, SherdPhasePoint, index);
}

/**
 * sherd_phase_liquidus_c:
 * @system: one with liquidus
 * @first_frac: mole fraction of its first oxide, 0 to 1
 * @limit_c: (out) (nullable): ±, that of the neighbouring points
 *
 * Returns: the temperature at which the last crystal melts, by straight lines between the points
 */
double
sherd_phase_liquidus_c (const SherdPhaseSystem *system, double first_frac, double *limit_c)
{
  guint i = 1;
  const SherdPhasePoint *above, *below;
  double t;

  g_return_val_if_fail (system->has_liquidus && system->points->len >= 2, 0.0);
  while (i + 1 < system->points->len && point_of (system, i)->mol_frac[0] > first_frac)
    i++;
  above = point_of (system, i - 1);
  below = point_of (system, i);
  t = CLAMP ((above->mol_frac[0] - first_frac) / (above->mol_frac[0] - below->mol_frac[0]), 0.0, 1.0);
  if (limit_c != NULL)
    *limit_c = t <= 0.0 ? above->limit_c : t >= 1.0 ? below->limit_c : MAX (above->limit_c, below->limit_c);
  return (1.0 - t) * above->temperature_c + t * below->temperature_c;
}

/* Compounds and pure oxides bound the sub-systems in which one eutectic lies. */
static gboolean
is_bound (const SherdPhasePoint *point)
{
  return point->kind == SHERD_PHASE_MELTING;
}

static double
lowest_between (const SherdPhaseSystem *system, guint first, guint last, double *limit_c)
{
  const SherdPhasePoint *lowest = NULL;

  for (guint i = first; i <= last; i++)
    {
      const SherdPhasePoint *point = point_of (system, i);

      if (point->kind != SHERD_PHASE_LIQUIDUS && (lowest == NULL || point->temperature_c < lowest->temperature_c))
        lowest = point;
    }
  if (lowest == NULL)
    lowest = point_of (system, first);
  if (limit_c != NULL)
    *limit_c = lowest->limit_c;
  return lowest->temperature_c;
}

/**
 * sherd_phase_solidus_c:
 * @system: one with liquidus
 * @first_frac: mole fraction of its first oxide, 0 to 1
 * @limit_c: (out) (nullable): ±
 *
 * Returns: the temperature at which the first liquid stands at equilibrium: the lowest point between the two compounds
 *   that enclose the mix
 */
double
sherd_phase_solidus_c (const SherdPhaseSystem *system, double first_frac, double *limit_c)
{
  guint first = 0;

  g_return_val_if_fail (system->has_liquidus && system->points->len >= 2, 0.0);
  for (guint i = 1; i < system->points->len; i++)
    if (is_bound (point_of (system, i)) || i + 1 == system->points->len)
      {
        if (first_frac >= point_of (system, i)->mol_frac[0])
          return lowest_between (system, first, i, limit_c);
        first = i;
      }
  return lowest_between (system, first, system->points->len - 1, limit_c);
}

/**
 * sherd_phase_most_liquid_frac:
 * @system: a system
 * @point: one of its points
 * @oxides: moles of all oxides of a mix
 *
 * Returns: the share of the mix's moles that can become liquid of that composition, before one of its oxides is used
 * up; 0 when one is absent. Where the composition is not known it counts as equal shares
 */
double
sherd_phase_most_liquid_frac (const SherdPhaseSystem *system, const SherdPhasePoint *point, const SherdOxides *oxides)
{
  double sum = 0.0, most = INFINITY;

  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    sum += oxides->mol[oxide];
  for (guint i = 0; i < system->n_oxides; i++)
    {
      const double needed = point->is_placed ? point->mol_frac[i] : 1.0 / system->n_oxides;

      if (needed > 0.0)
        most = MIN (most, oxides->mol[system->oxides[i]] / needed);
    }
  return sum > 0.0 && isfinite (most) ? MIN (1.0, most / sum) : 0.0;
}
