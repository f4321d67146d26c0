/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/format.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "trial/stage.h"

/* Expansion of a standard uncertainty to about 95 % (JCGM 100:2008, 6.2). */
#define COVERAGE 2.0
/* Limits of a shift are shown when one is off the ± by more than this share of it (our choice). */
#define NEAR_LIMIT_FRAC 0.3

#define MINUS "−"

/* Digits behind the mark, far beyond what any measurement has. */
#define MAX_DECIMALS 12

/**
 * sherd_format_number:
 * @value: a number
 * @decimals: places behind the decimal mark
 *
 * Returns: (transfer full): the number for people: the locale's decimal mark, a real minus, no negative zero; "not
 * known" for what is not finite
 */
char *
sherd_format_number (double value, guint decimals)
{
  g_autofree char *digits = NULL;

  if (!isfinite (value))
    return g_strdup (_ ("not known"));
  digits = g_strdup_printf ("%.*f", (int)MIN (decimals, MAX_DECIMALS), fabs (value));
  if (signbit (value) && strspn (digits, "0.,") != strlen (digits))
    return g_strconcat (MINUS, digits, NULL);
  return g_steal_pointer (&digits);
}

/* Power of ten of the second significant digit: −1 for 1.5, 0 for 12, 1 for 120. Rounding may carry (0.996 is 1.0). */
static int
second_digit (double expanded_u)
{
  int power = (int)floor (log10 (expanded_u)) - 1;

  if (round (expanded_u / pow (10.0, power)) >= 100.0)
    power++;
  return power;
}

static double
round_to (double value, int power)
{
  const double unit = pow (10.0, power);

  return power > 0 ? round (value / unit) * unit : value;
}

/**
 * sherd_format_uncertain:
 * @value: a measured value
 * @expanded_u: its expanded uncertainty, same unit
 *
 * Two significant digits for the uncertainty, the same decimals for the value: a digit that is not known is not shown
 * (JCGM 100:2008, 7.2.6). Never shows "± 0.00": without a usable uncertainty the value stands alone with one decimal.
 *
 * Returns: (transfer full): "6.8 ± 1.5"
 */
char *
sherd_format_uncertain (double value, double expanded_u)
{
  g_autofree char *value_digits = NULL;
  g_autofree char *u_digits = NULL;
  int power;

  if (!isfinite (value) || !isfinite (expanded_u) || expanded_u < pow (10.0, 1 - MAX_DECIMALS))
    return sherd_format_number (value, 1);
  power = second_digit (expanded_u);
  value_digits = sherd_format_number (round_to (value, power), power < 0 ? (guint)-power : 0);
  u_digits = sherd_format_number (round_to (expanded_u, power), power < 0 ? (guint)-power : 0);
  return g_strdup_printf ("%s ± %s", value_digits, u_digits);
}

/**
 * sherd_format_lab:
 * @lab: a colour
 *
 * Returns: (transfer full): L*, a*, b* with one decimal each: "42.1, 11.0, −3.2"; "not measured" when it has no value
 */
char *
sherd_format_lab (const SherdLab *lab)
{
  g_autofree char *l = sherd_format_number (lab->l, 1);
  g_autofree char *a = sherd_format_number (lab->a, 1);
  g_autofree char *b = sherd_format_number (lab->b, 1);

  if (!isfinite (lab->l) || !isfinite (lab->a) || !isfinite (lab->b))
    return g_strdup (_ ("not measured"));
  return g_strdup_printf ("%s, %s, %s", l, a, b);
}

/**
 * sherd_format_lab_uncertain:
 * @lab: a colour
 * @covariance: of its L*, a*, b*
 *
 * Returns: (transfer full): each axis with its own expanded uncertainty (k = 2)
 */
char *
sherd_format_lab_uncertain (const SherdLab *lab, const double covariance[3][3])
{
  g_autofree char *l = sherd_format_uncertain (lab->l, COVERAGE * sqrt (covariance[0][0]));
  g_autofree char *a = sherd_format_uncertain (lab->a, COVERAGE * sqrt (covariance[1][1]));
  g_autofree char *b = sherd_format_uncertain (lab->b, COVERAGE * sqrt (covariance[2][2]));

  if (!isfinite (lab->l) || !isfinite (lab->a) || !isfinite (lab->b))
    return g_strdup (_ ("not measured"));
  return g_strdup_printf ("L* %s, a* %s, b* %s", l, a, b);
}

/**
 * sherd_format_zone_colour:
 * @zone: (nullable): one zone in one photograph
 *
 * Returns: (transfer full): its colour as sherd_format_lab () writes it, or "not measured"
 */
char *
sherd_format_zone_colour (const SherdZoneColour *zone)
{
  return sherd_zone_colour_is_measured (zone) ? sherd_format_lab (&zone->lab) : g_strdup (_ ("not measured"));
}

/* Whether ± says the same as the limits do, near enough. */
static gboolean
is_symmetric (const SherdShift *shift)
{
  const double u = COVERAGE * shift->de00_u, near = NEAR_LIMIT_FRAC * u;

  return fabs (shift->difference.de00 - u - shift->de00_low) <= near &&
         fabs (shift->de00_high - shift->difference.de00 - u) <= near;
}

/**
 * sherd_format_shift:
 * @shift: the shift of a zone
 *
 * Returns: (transfer full): ΔE00 with its expanded uncertainty (k = 2), "6.8 ± 1.5"; with its 95 % limits where these
 * are not symmetric, "11.9 (0.0–13.1)"; or "not measured"
 */
char *
sherd_format_shift (const SherdShift *shift)
{
  g_autofree char *value = NULL;
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;

  if (!shift->measured)
    return g_strdup (_ ("not measured"));
  if (is_symmetric (shift))
    return sherd_format_uncertain (shift->difference.de00, COVERAGE * shift->de00_u);
  value = sherd_format_number (shift->difference.de00, 1);
  low = sherd_format_number (shift->de00_low, 1);
  high = sherd_format_number (shift->de00_high, 1);
  return g_strdup_printf ("%s (%s–%s)", value, low, high);
}

/**
 * sherd_format_shift_verdict:
 * @shift: the shift of a zone
 *
 * Returns: (transfer full): in words whether the colour has changed at 95 %
 */
char *
sherd_format_shift_verdict (const SherdShift *shift)
{
  if (!shift->measured)
    return g_strdup (_ ("not measured"));
  return g_strdup (shift->real ? _ ("changed") : _ ("not proven"));
}

/**
 * sherd_format_frac:
 * @frac: a share, 0…1; estimates a little outside are shown as 0 % or 100 %; −1 stands for not known
 *
 * Returns: (transfer full): "94 %", or "cannot tell"
 */
char *
sherd_format_frac (double frac)
{
  if (!isfinite (frac) || frac <= -1.0)
    return g_strdup (_ ("cannot tell"));
  return g_strdup_printf ("%.0f %%", 100.0 * CLAMP (frac, 0.0, 1.0));
}

/* At most two decimals, none that are zero. */
static char *
short_mm (double length_mm)
{
  const double hundredths = round (length_mm * 100.0);
  guint decimals = 2;

  if (fmod (hundredths, 100.0) == 0.0)
    decimals = 0;
  else if (fmod (hundredths, 10.0) == 0.0)
    decimals = 1;
  return sherd_format_number (length_mm, decimals);
}

/**
 * sherd_format_size_mm:
 * @width_mm: width
 * @height_mm: height
 *
 * Returns: (transfer full): "120 × 80.5 mm"
 */
char *
sherd_format_size_mm (double width_mm, double height_mm)
{
  g_autofree char *width = short_mm (width_mm);
  g_autofree char *height = short_mm (height_mm);

  return g_strdup_printf (_ ("%s × %s mm"), width, height);
}

/**
 * sherd_format_zone_flags:
 * @flags: SherdZoneFlags
 *
 * Returns: (transfer full): why a zone's number is wider than usual or missing; empty when there is nothing to say
 */
char *
sherd_format_zone_flags (guint flags)
{
  char *text = sherd_zone_flags_to_text (flags);

  return text != NULL ? text : g_strdup ("");
}

/**
 * sherd_format_paint:
 * @paint: (nullable): a paint; %NULL for none
 *
 * Returns: (transfer full): its code and name, or "bare"
 */
char *
sherd_format_paint (SherdPaint *paint)
{
  if (paint == NULL)
    return g_strdup (_ ("bare"));
  return g_strchomp (g_strdup_printf ("%s %s", sherd_paint_get_code (paint), sherd_paint_get_name (paint)));
}

/**
 * sherd_format_stage:
 * @stage: a stage as the file writes it
 *
 * Returns: (transfer full): in the user's words; @stage itself when it is none
 */
char *
sherd_format_stage (const char *stage)
{
  guint n_firings;
  gboolean rubbed;
  g_autofree char *fired = NULL;

  if (!sherd_stage_parse (stage, &n_firings, &rubbed))
    return g_strdup (stage != NULL ? stage : "");
  fired = n_firings == 0 ? g_strdup (_ ("Unfired")) : g_strdup_printf (_ ("After firing %u"), n_firings);
  /* Translators: %s is “Unfired” or “After firing 2”. */
  return rubbed ? g_strdup_printf (_ ("%s, after rubbing"), fired) : g_steal_pointer (&fired);
}

/**
 * sherd_format_side:
 * @name: of a side, as the file writes it
 *
 * Returns: (transfer full): in the user's words
 */
char *
sherd_format_side (const char *name)
{
  if (g_strcmp0 (name, "face") == 0)
    return g_strdup (_ ("Face"));
  if (g_strcmp0 (name, "back") == 0)
    return g_strdup (_ ("Back"));
  if (g_strcmp0 (name, "outside") == 0)
    return g_strdup (_ ("Outside"));
  if (g_strcmp0 (name, "inside") == 0)
    return g_strdup (_ ("Inside"));
  return g_strdup (name != NULL ? name : "");
}

/**
 * sherd_format_clay_state:
 * @state: a state of the clay
 *
 * Returns: (transfer full): in the user's words
 */
char *
sherd_format_clay_state (SherdClayState state)
{
  switch (state)
    {
    case SHERD_CLAY_LEATHER_HARD:
      return g_strdup (_ ("Leather-hard"));
    case SHERD_CLAY_DRY:
      return g_strdup (_ ("Dry"));
    case SHERD_CLAY_FIRED:
    default:
      return g_strdup (_ ("Fired"));
    }
}

/**
 * sherd_format_reference_kind:
 * @kind: a kind of reference
 *
 * Returns: (transfer full): in the user's words
 */
char *
sherd_format_reference_kind (SherdReferenceKind kind)
{
  switch (kind)
    {
    case SHERD_REFERENCE_CHART:
      return g_strdup (_ ("Colour chart"));
    case SHERD_REFERENCE_GREY_CARD:
      return g_strdup (_ ("Grey card"));
    case SHERD_REFERENCE_NONE:
    default:
      return g_strdup (_ ("No reference"));
    }
}

/**
 * sherd_format_exact:
 * @value: a finite number
 *
 * The fewest digits, from 15 up, that read back as the same double; 17 always do (IEEE 754). A negative zero keeps its
 * sign by being written with a fraction, as a whole number has none.
 *
 * Returns: (transfer full): the number for a file, with "." in every locale
 */
char *
sherd_format_exact (double value)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  static const char *const formats[] = { "%.15g", "%.16g", "%.17g" };

  if (value == 0.0)
    return g_strdup (signbit (value) ? "-0.0" : "0");
  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    if (g_ascii_strtod (g_ascii_formatd (digits, sizeof digits, formats[i], value), NULL) == value)
      break;
  return g_strdup (digits);
}

/* Control characters, ends of lines and paragraphs, and what turns the direction of writing: Unicode's classes Cc, Zl,
 * Zp and the explicit formatting characters of UAX #9, 2.1, 2.2 and 2.4. */
static gboolean
steers_a_terminal (gunichar c)
{
  return g_unichar_iscntrl (c) || c == 0x2028 || c == 0x2029 || (c >= 0x202a && c <= 0x202e) ||
         (c >= 0x2066 && c <= 0x2069);
}

/**
 * sherd_format_visible:
 * @text: what somebody wrote, or the name of a file; bytes that are not UTF-8 become U+FFFD
 *
 * Returns: (transfer full): the text as one line of a terminal; what would steer the terminal, break the line or turn
 * the writing around is spelt as in JSON, "\u001b"
 */
char *
sherd_format_visible (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  GString *visible = g_string_new (NULL);

  for (const char *at = valid; *at != '\0'; at = g_utf8_next_char (at))
    {
      const gunichar c = g_utf8_get_char (at);

      if (steers_a_terminal (c))
        g_string_append_printf (visible, "\\u%04x", c);
      else
        g_string_append_unichar (visible, c);
    }
  return g_string_free (visible, FALSE);
}
