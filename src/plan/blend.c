/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/blend.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Our choice: nobody mixes more. */
#define MOST_MEMBERS 500u

/* Unlike steps are read to a hundredth of a per cent. */
#define PARTS_PER_PCT 100.0

static gboolean
refuse (GError **error, const char *message)
{
  g_set_error_literal (error, SHERD_PLAN_ERROR, SHERD_PLAN_ERROR_VALUE, message);
  return FALSE;
}

static gboolean
check_steps (guint n_steps, guint64 n_members, GError **error)
{
  if (n_steps < 1)
    return refuse (error, _ ("A blend has at least 1 step between its paints."));
  if (n_members <= MOST_MEMBERS)
    return TRUE;
  g_set_error (error, SHERD_PLAN_ERROR, SHERD_PLAN_ERROR_VALUE,
               _ ("So many steps make %.0f mixtures; at most %u are taken. Take fewer steps."), (double)n_members,
               MOST_MEMBERS);
  return FALSE;
}

static SherdBlend *
blend_new (guint n_paints, guint n_members)
{
  SherdBlend *self = g_new0 (SherdBlend, 1);

  self->n_paints = n_paints;
  self->members = g_new0 (SherdBlendMember, n_members);
  return self;
}

void
sherd_blend_free (SherdBlend *self)
{
  g_free (self->members);
  g_free (self);
}

/**
 * sherd_blend_line:
 * @n_steps: steps from the first paint to the second: 10 for steps of 10 %
 * @error: SHERD_PLAN_ERROR_VALUE
 *
 * A line blend: n_steps + 1 members, the first and the last of which are the paints themselves.
 *
 * Returns: (transfer full): the members from the first paint to the second
 */
SherdBlend *
sherd_blend_line (guint n_steps, GError **error)
{
  SherdBlend *self;

  if (!check_steps (n_steps, (guint64)n_steps + 1, error))
    return NULL;
  self = blend_new (2, n_steps + 1);
  for (guint i = 0; i <= n_steps; i++)
    self->members[self->n_members++] = (SherdBlendMember){ .parts = { n_steps - i, i }, .whole = n_steps, .column = i };
  return self;
}

static gboolean
check_shares (const double *shares_pct, guint n_shares, GError **error)
{
  for (guint i = 0; i < n_shares; i++)
    {
      if (!(shares_pct[i] >= 0.0 && shares_pct[i] <= 100.0))
        {
          g_set_error (error, SHERD_PLAN_ERROR, SHERD_PLAN_ERROR_VALUE,
                       _ ("A share of %g %% cannot be; it lies between 0 and 100 %%."), shares_pct[i]);
          return FALSE;
        }
      if (i > 0 && !(shares_pct[i] > shares_pct[i - 1]))
        return refuse (error, _ ("Shares of a line blend grow from one to the next: 0, 2, 5, 10, 25."));
    }
  return n_shares > 0 || refuse (error, _ ("A blend has at least 1 step between its paints."));
}

/**
 * sherd_blend_line_at:
 * @shares_pct: (array length=n_shares): shares of the second paint in per cent, growing; read to 0.01 %
 * @n_shares: how many
 * @error: SHERD_PLAN_ERROR_VALUE
 *
 * A line blend in unlike steps: fine where a costly or strong paint begins to show.
 *
 * Returns: (transfer full): the members
 */
SherdBlend *
sherd_blend_line_at (const double *shares_pct, guint n_shares, GError **error)
{
  const guint whole = (guint)(100.0 * PARTS_PER_PCT);
  SherdBlend *self;

  if (!check_shares (shares_pct, n_shares, error) || !check_steps (1, n_shares, error))
    return NULL;
  self = blend_new (2, n_shares);
  for (guint i = 0; i < n_shares; i++)
    {
      const guint parts = (guint)lround (shares_pct[i] * PARTS_PER_PCT);

      self->members[self->n_members++] =
        (SherdBlendMember){ .parts = { whole - parts, parts }, .whole = whole, .column = i };
    }
  return self;
}

/**
 * sherd_blend_triaxial:
 * @n_steps: steps from each paint to each other: 5 for steps of 20 %
 * @error: SHERD_PLAN_ERROR_VALUE
 *
 * A triaxial blend: the {3, n_steps} simplex lattice (H. Scheffé, J. Roy. Stat. Soc. B 20, 1958, 344–360), with
 * (n_steps + 1) (n_steps + 2) / 2 members: the first paint at the top, the second at the lower left, the third at the
 * lower right, row by row.
 *
 * Returns: (transfer full): the members
 */
SherdBlend *
sherd_blend_triaxial (guint n_steps, GError **error)
{
  const guint64 n_members = ((guint64)n_steps + 1) * ((guint64)n_steps + 2) / 2;
  SherdBlend *self;

  if (!check_steps (n_steps, n_members, error))
    return NULL;
  self = blend_new (3, (guint)n_members);
  for (guint row = 0; row <= n_steps; row++)
    for (guint column = 0; column <= row; column++)
      self->members[self->n_members++] = (SherdBlendMember){
        .parts = { n_steps - row, row - column, column }, .whole = n_steps, .row = row, .column = column
      };
  return self;
}

/**
 * sherd_blend_square:
 * @n_steps_across: steps from the first paint to the second
 * @n_steps_down: steps from the line of the first and second to that of the third and fourth
 * @error: SHERD_PLAN_ERROR_VALUE
 *
 * A quadrilateral of two lines: the first paint to the second along the top, the third to the fourth along the bottom,
 * and every member of the top blended with the one below it.
 *
 * Returns: (transfer full): the members, row by row
 */
SherdBlend *
sherd_blend_square (guint n_steps_across, guint n_steps_down, GError **error)
{
  const guint64 n_members = ((guint64)n_steps_across + 1) * ((guint64)n_steps_down + 1);
  SherdBlend *self;

  if (!check_steps (MIN (n_steps_across, n_steps_down), n_members, error))
    return NULL;
  self = blend_new (4, (guint)n_members);
  for (guint row = 0; row <= n_steps_down; row++)
    for (guint column = 0; column <= n_steps_across; column++)
      {
        const guint up = n_steps_down - row, left = n_steps_across - column;

        self->members[self->n_members++] =
          (SherdBlendMember){ .parts = { up * left, up * column, row * left, row * column },
                              .whole = n_steps_across * n_steps_down,
                              .row = row,
                              .column = column };
      }
  return self;
}

static void
add_equal_mixture (SherdBlend *self, guint paints, guint n_mixed)
{
  SherdBlendMember member = { .whole = n_mixed, .row = n_mixed - 1 };

  for (guint paint = 0; paint < self->n_paints; paint++)
    member.parts[paint] = (paints >> paint) & 1;
  for (guint i = 0; i < self->n_members; i++)
    member.column += self->members[i].row == member.row;
  self->members[self->n_members++] = member;
}

/**
 * sherd_blend_centroid:
 * @n_paints: 2 to 4
 * @error: SHERD_PLAN_ERROR_VALUE
 *
 * The simplex centroid (H. Scheffé, J. Roy. Stat. Soc. B 25, 1963, 235–251): each paint by itself, each two in equal
 * parts, each three, and all: 2^n_paints − 1 members.
 *
 * Returns: (transfer full): the members, those of fewer paints first
 */
SherdBlend *
sherd_blend_centroid (guint n_paints, GError **error)
{
  SherdBlend *self;

  if (n_paints < 2 || n_paints > SHERD_BLEND_MOST_PAINTS)
    {
      refuse (error, _ ("A blend has two to four paints."));
      return NULL;
    }
  self = blend_new (n_paints, (1u << n_paints) - 1);
  for (guint n_mixed = 1; n_mixed <= n_paints; n_mixed++)
    for (guint paints = 1; paints < 1u << n_paints; paints++)
      if ((guint)__builtin_popcount (paints) == n_mixed)
        add_equal_mixture (self, paints, n_mixed);
  return self;
}

guint
sherd_blend_count_paints (const SherdBlendMember *member)
{
  guint n_paints = 0;

  for (guint paint = 0; paint < SHERD_BLEND_MOST_PAINTS; paint++)
    n_paints += member->parts[paint] > 0;
  return n_paints;
}

/**
 * sherd_blend_share:
 * @member: a member
 * @paint: a paint, from 0
 *
 * Returns: its share, 0 … 1
 */
double
sherd_blend_share (const SherdBlendMember *member, guint paint)
{
  return (double)member->parts[paint] / member->whole;
}

/**
 * sherd_blend_share_pct:
 * @member: a member
 * @paint: a paint, from 0
 *
 * Returns: its share in per cent; 33.3 where that was asked for, not 33.300000000000004
 */
double
sherd_blend_share_pct (const SherdBlendMember *member, guint paint)
{
  return 100.0 * member->parts[paint] / member->whole;
}

/* The paint of which the exact mass lies farthest above what is weighed. */
static guint
find_largest_rest (const SherdBlendMember *member, double n_exact_units, const double *units)
{
  guint largest = 0;
  double most = -INFINITY;

  for (guint paint = 0; paint < SHERD_BLEND_MOST_PAINTS; paint++)
    {
      const double rest = n_exact_units * sherd_blend_share (member, paint) - units[paint];

      if (member->parts[paint] > 0 && rest > most + 1e-9)
        {
          most = rest;
          largest = paint;
        }
    }
  return largest;
}

/**
 * sherd_blend_weigh:
 * @member: a member
 * @total_g: how much of it is mixed, dry
 * @readability_g: the least step of the scale: 0.1
 * @grams: (out caller-allocates) (array fixed-size=4): what to weigh of each paint, in whole steps of the scale
 *
 * Rounds so that the sum stays right: whole steps first, then one more for those with the largest rest, the method of
 * largest remainders.
 *
 * Returns: by how much a share is off at most, 0 … 1
 */
double
sherd_blend_weigh (const SherdBlendMember *member, double total_g, double readability_g, double *grams)
{
  const double n_units = round (total_g / readability_g);
  double units[SHERD_BLEND_MOST_PAINTS], worst = 0.0, n_rest = n_units;

  for (guint paint = 0; paint < SHERD_BLEND_MOST_PAINTS; paint++)
    {
      /* A hair for shares such as 1/3 of 3 units. */
      units[paint] = floor (n_units * sherd_blend_share (member, paint) + 1e-9);
      n_rest -= units[paint];
    }
  for (guint n_left = (guint)lround (n_rest); n_left > 0; n_left--)
    units[find_largest_rest (member, n_units, units)]++;
  for (guint paint = 0; paint < SHERD_BLEND_MOST_PAINTS; paint++)
    {
      grams[paint] = units[paint] * readability_g;
      if (n_units > 0.0)
        worst = fmax (worst, fabs (units[paint] / n_units - sherd_blend_share (member, paint)));
    }
  return n_units > 0.0 ? worst : 1.0;
}

/**
 * sherd_blend_codes:
 * @stem: what all codes begin with
 * @n_codes: how many
 * @taken: (nullable): codes that are in use; ended by NULL
 *
 * Returns: (transfer full): the stem with numbers from 1, those in use left out; ended by NULL
 */
char **
sherd_blend_codes (const char *stem, guint n_codes, const char *const *taken)
{
  char **codes = g_new0 (char *, n_codes + 1);
  guint n_made = 0;

  for (guint number = 1; n_made < n_codes; number++)
    {
      g_autofree char *code = g_strdup_printf ("%s%u", stem, number);

      if (taken == NULL || !g_strv_contains (taken, code))
        codes[n_made++] = g_steal_pointer (&code);
    }
  return codes;
}
