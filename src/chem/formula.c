/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/formula.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Our choices, far beyond any mineral: they keep a broken text from costing time, and every sum finite. */
#define MOST_BYTES 500
#define MOST_DEPTH 20
#define MOST_ATOMS 1e6
#define LEAST_COUNT 1e-6

static const gunichar dots[] = { 0xB7, 0x2022, 0x2027, 0x2219, 0x22C5, '*' };

typedef struct
{
  SherdTextReading reading;
  const char *end;
  const char *at;
  guint depth;
  gboolean term_is_counted; /* the last term read was one element or bracket with a number behind it */
  double term_count;        /* that number */
} Reader;

#define refuse(reader, where, ...) sherd_refuse_at (&(reader)->reading, where, __VA_ARGS__)

static gboolean read_term (Reader *reader, SherdFormula *formula);

static SherdFormula *
formula_new_empty (void)
{
  SherdFormula *formula = g_new0 (SherdFormula, 1);

  formula->deviations = g_array_new (FALSE, FALSE, sizeof (SherdAtoms));
  return formula;
}

void
sherd_formula_free (SherdFormula *formula)
{
  if (formula == NULL)
    return;
  g_array_unref (formula->deviations);
  g_free (formula);
}

static void
add_formula (SherdFormula *sum, const SherdFormula *term, double times)
{
  sherd_atoms_add (&sum->atoms, &term->atoms, times);
  for (guint i = 0; i < term->deviations->len; i++)
    {
      SherdAtoms scaled = { { 0 } };

      sherd_atoms_add (&scaled, &g_array_index (term->deviations, SherdAtoms, i), times);
      g_array_append_val (sum->deviations, scaled);
    }
}

/* Returns: (transfer full): the same again */
SherdFormula *
sherd_formula_copy (const SherdFormula *formula)
{
  SherdFormula *copy = formula_new_empty ();

  add_formula (copy, formula, 1.0);
  return copy;
}

/* 0 at the end. */
static gunichar
peek (const Reader *reader, const char *at)
{
  return at < reader->end ? g_utf8_get_char (at) : 0;
}

static void
skip_spaces (Reader *reader)
{
  while (g_unichar_isspace (peek (reader, reader->at)))
    reader->at = g_utf8_next_char (reader->at);
}

/* -1 when it is none. Digits may be written below the line. */
static int
digit_at (const Reader *reader, const char *at)
{
  const gunichar c = peek (reader, at);

  if (c >= 0x2080 && c <= 0x2089)
    return (int)(c - 0x2080);
  return c < 0x80 ? g_ascii_digit_value ((char)c) : -1;
}

static const char *
after_digits (const Reader *reader, const char *at)
{
  while (digit_at (reader, at) >= 0)
    at = g_utf8_next_char (at);
  return at;
}

static gboolean
starts_unit (gunichar c)
{
  return (c < 0x80 && g_ascii_isupper ((char)c)) || c == '(' || c == '[' || c == '{';
}

/* A point between digits is the decimal point, as in Al1.67, unless it must part two formulas: after oxygen or a
 * bracket with more to come, as in Al2O3.2SiO2, before water, as in CaCl2.2H2O, and where another point follows, as in
 * CaSO4.0.5H2O. @number: where the digits before
 * the point start. */
static gboolean
is_decimal_mark (const Reader *reader, const char *number, const char *mark)
{
  const char *after = after_digits (reader, mark + 1);
  const char before = number > reader->reading.text ? number[-1] : '\0';
  const gboolean starts_with_zero = digit_at (reader, number) == 0 || digit_at (reader, mark + 1) == 0;
  const gboolean more = starts_unit (peek (reader, after));
  const gboolean water =
    reader->end - after >= 3 && (strncmp (after, "H2O", 3) == 0 || g_str_has_prefix (after, "H₂O"));

  if (peek (reader, mark) != '.' && peek (reader, mark) != ',')
    return FALSE;
  if (digit_at (reader, mark + 1) < 0 || (*after == '.' && digit_at (reader, after + 1) >= 0))
    return FALSE;
  if (starts_with_zero || peek (reader, mark) == ',')
    return TRUE;
  return !(water || (more && (before == 'O' || before == ')' || before == ']' || before == '}')));
}

static double
digits_value (const Reader *reader, const char *from, const char *to)
{
  double value = 0.0;

  for (const char *at = from; at < to; at = g_utf8_next_char (at))
    value = 10.0 * value + digit_at (reader, at);
  return value;
}

/* Digits, perhaps with a decimal mark. */
static double
read_decimal (Reader *reader)
{
  const char *start = reader->at;
  const char *mark = after_digits (reader, start);
  double value = digits_value (reader, start, mark);

  reader->at = mark;
  if (is_decimal_mark (reader, start, mark))
    {
      const char *end = after_digits (reader, mark + 1);

      value += digits_value (reader, mark + 1, end) / pow (10.0, (double)g_utf8_pointer_to_offset (mark + 1, end));
      reader->at = end;
    }
  return value;
}

/* How many: 1 where nothing is written. Fractions such as 1/3 count too. */
static gboolean
read_count (Reader *reader, double *count, gboolean *written)
{
  const char *start = reader->at;

  *written = digit_at (reader, start) >= 0;
  *count = *written ? read_decimal (reader) : 1.0;
  if (*written && peek (reader, reader->at) == '/' && digit_at (reader, reader->at + 1) >= 0)
    {
      reader->at++;
      *count /= read_decimal (reader);
    }
  if (!(*count >= LEAST_COUNT && *count <= MOST_ATOMS))
    return refuse (reader, start, _ ("the number is zero or far too large; leave out what is not there."));
  return TRUE;
}

static gboolean
refuse_letters (Reader *reader, const char *symbol)
{
  const char letter[2] = { g_ascii_toupper (*symbol), '\0' };
  const char pair[3] = { letter[0], symbol + 1 < reader->end ? symbol[1] : '\0', '\0' };

  if ((*symbol == 'n' || *symbol == 'x') && (symbol == reader->reading.text || !g_ascii_isalpha (symbol[-1])))
    return refuse (reader, symbol, _ ("“%c” is not a number; write how many, as in 2H2O."), *symbol);
  if (g_ascii_islower (*symbol) && sherd_element_find (pair, 2) != NULL)
    return refuse (reader, symbol, _ ("symbols begin with a capital letter: write “%s”."), pair);
  if (g_ascii_islower (*symbol) && sherd_element_find (letter, 1) != NULL)
    return refuse (reader, symbol, _ ("symbols begin with a capital letter: write “%s”."), letter);
  if (symbol + 1 < reader->end && g_ascii_islower (symbol[1]))
    return refuse (reader, symbol, _ ("“%.2s” is not an element."), symbol);
  return refuse (reader, symbol, _ ("“%c” is not an element."), *symbol);
}

static gboolean
read_element (Reader *reader, SherdFormula *formula)
{
  const char *start = reader->at;
  const gsize length = start + 1 < reader->end && g_ascii_islower (start[1]) ? 2 : 1;
  const SherdElement *element = sherd_element_find (start, length);

  if (element == NULL)
    return refuse_letters (reader, start);
  formula->atoms.count[element->number] += 1.0;
  reader->at += length;
  return TRUE;
}

/* What stands between two commas of a bracket. */
typedef struct
{
  SherdFormula *formula;
  gboolean has_share; /* one element or bracket, with a number behind it */
  double share;
} Alternative;

static void
clear_alternative (gpointer data)
{
  sherd_formula_free (((Alternative *)data)->formula);
}

/* Shares that are not known: each as likely as any other, so equal on average, with the covariance of a uniform
 * distribution over all shares that sum to 1 (Dirichlet with all parameters 1): var = (n - 1) / (n² (n + 1)). */
static void
add_unknown_shares (const GArray *alternatives, SherdFormula *formula)
{
  const double n = alternatives->len;
  const double step = 1.0 / sqrt (n * (n + 1.0));

  for (guint i = 0; i < alternatives->len; i++)
    add_formula (formula, g_array_index (alternatives, Alternative, i).formula, 1.0 / n);
  for (guint i = 0; i < alternatives->len; i++)
    {
      SherdAtoms deviation = { { 0 } };

      for (guint k = 0; k < alternatives->len; k++)
        sherd_atoms_add (&deviation, &g_array_index (alternatives, Alternative, k).formula->atoms,
                         step * ((i == k ? 1.0 : 0.0) - 1.0 / n));
      g_array_append_val (formula->deviations, deviation);
    }
}

/* One alternative without a number takes what is left of 1, as in (Mg0.9,Fe). The formula of an alternative with a
 * number already counts that many. */
static gboolean
add_alternatives (Reader *reader, const char *start, const GArray *alternatives, SherdFormula *formula)
{
  guint n_shares = 0;
  double sum = 0.0;

  for (guint i = 0; i < alternatives->len; i++)
    {
      const Alternative *alternative = &g_array_index (alternatives, Alternative, i);

      n_shares += alternative->has_share ? 1 : 0;
      sum += alternative->has_share ? alternative->share : 0.0;
    }
  if (n_shares == 0 && alternatives->len > 1)
    {
      add_unknown_shares (alternatives, formula);
      return TRUE;
    }
  if (n_shares + 1 < alternatives->len || (n_shares + 1 == alternatives->len && alternatives->len > 1 && sum >= 1.0))
    return refuse (reader, start, _ ("give every share in this bracket a number, as in (Mg0.9,Fe0.1), or none."));
  for (guint i = 0; i < alternatives->len; i++)
    {
      const Alternative *alternative = &g_array_index (alternatives, Alternative, i);
      const gboolean rest = alternatives->len > 1 && !alternative->has_share;

      add_formula (formula, alternative->formula, rest ? 1.0 - sum : 1.0);
    }
  return TRUE;
}

static gboolean
read_alternative (Reader *reader, GArray *alternatives)
{
  Alternative *alternative;

  g_array_set_size (alternatives, alternatives->len + 1);
  alternative = &g_array_index (alternatives, Alternative, alternatives->len - 1);
  alternative->formula = formula_new_empty ();
  if (!read_term (reader, alternative->formula))
    return FALSE;
  alternative->has_share = reader->term_is_counted;
  alternative->share = reader->term_count;
  return TRUE;
}

static gunichar
closing (gunichar bracket)
{
  return bracket == '(' ? ')' : bracket == '[' ? ']' : '}';
}

static gboolean
read_bracket (Reader *reader, SherdFormula *formula)
{
  g_autoptr (GArray) alternatives = g_array_new (FALSE, TRUE, sizeof (Alternative));
  const char *start = reader->at;

  g_array_set_clear_func (alternatives, clear_alternative);
  if (++reader->depth > MOST_DEPTH)
    return refuse (reader, start, _ ("brackets lie in brackets too deeply."));
  do
    {
      reader->at++;
      if (!read_alternative (reader, alternatives))
        return FALSE;
    }
  while (peek (reader, reader->at) == ',');
  if (peek (reader, reader->at) != closing (peek (reader, start)))
    return refuse (reader, reader->at < reader->end ? reader->at : start, _ ("the bracket “%c” is not closed by “%c”."),
                   *start, (char)closing (peek (reader, start)));
  reader->at++;
  reader->depth--;
  return add_alternatives (reader, start, alternatives, formula);
}

/* An element or a bracket, and how many of it. */
static gboolean
read_unit (Reader *reader, SherdFormula *formula, gboolean *written)
{
  g_autoptr (SherdFormula) unit = formula_new_empty ();
  const gboolean is_element = g_ascii_isupper (*reader->at);
  double count;

  if (!(is_element ? read_element (reader, unit) : read_bracket (reader, unit)) ||
      !read_count (reader, &count, written))
    return FALSE;
  reader->term_count = count;
  add_formula (formula, unit, count);
  for (guint i = 0; i < SHERD_N_ATOMIC_NUMBERS; i++)
    if (formula->atoms.count[i] > MOST_ATOMS)
      return refuse (reader, reader->at, _ ("the numbers multiply to far too many atoms."));
  return TRUE;
}

static gboolean
is_charge (gunichar c)
{
  return c == '+' || c == '-' || c == '^' || (c >= 0x2070 && c <= 0x207B) || c == 0xB2 || c == 0xB3 || c == 0xB9 ||
         c == 0x2212 || c == 0x2013 || c == 0x208A || c == 0x208B;
}

/* Units side by side, with how often in front: “2PbCO3”. Ends before what it does not know. */
static gboolean
read_term (Reader *reader, SherdFormula *formula)
{
  g_autoptr (SherdFormula) term = formula_new_empty ();
  const char *start;
  guint n_units = 0;
  double times;
  gboolean multiplied, counted = FALSE;

  skip_spaces (reader);
  if (!read_count (reader, &times, &multiplied))
    return FALSE;
  skip_spaces (reader);
  start = reader->at;
  while (starts_unit (peek (reader, reader->at)))
    {
      if (!read_unit (reader, term, &counted))
        return FALSE;
      n_units++;
      skip_spaces (reader);
    }
  reader->term_is_counted = !multiplied && counted && n_units == 1;
  if (is_charge (peek (reader, reader->at)))
    return refuse (reader, reader->at, _ ("charges do not belong in a mineral’s formula; leave them out."));
  if (reader->at == start && peek (reader, start) < 0x80 && g_ascii_isalpha ((char)peek (reader, start)))
    return refuse_letters (reader, start);
  if (reader->at == start)
    return refuse (reader, start, _ ("an element is expected here, as in “Fe” or “(OH)”."));
  add_formula (formula, term, times);
  return TRUE;
}

static gboolean
at_dot (const Reader *reader)
{
  const gunichar c = peek (reader, reader->at);

  for (guint i = 0; i < G_N_ELEMENTS (dots); i++)
    if (c == dots[i])
      return TRUE;
  return c == '.';
}

static gboolean
refuse_rest (Reader *reader)
{
  const char *at = reader->at;
  const gunichar c = peek (reader, at);

  if (c < 0x80 && g_ascii_isalpha ((char)c))
    return refuse_letters (reader, at);
  if (c == ')' || c == ']' || c == '}')
    return refuse (reader, at, _ ("the bracket “%c” is closed but was not opened."), (char)c);
  if (digit_at (reader, at) >= 0)
    return refuse (reader, at, _ ("this number follows a space; write it right behind what it counts."));
  return refuse (reader, at, _ ("“%.*s” does not belong in a formula."), (int)(g_utf8_next_char (at) - at), at);
}

/* Terms parted by dots. */
static gboolean
read_formula (Reader *reader, SherdFormula *formula)
{
  if (!read_term (reader, formula))
    return FALSE;
  while (at_dot (reader))
    {
      reader->at = g_utf8_next_char (reader->at);
      if (!read_term (reader, formula))
        return FALSE;
    }
  return reader->at == reader->end || refuse_rest (reader);
}

/**
 * sherd_formula_read:
 * @reading: a valid UTF-8 text that ends with a zero
 * @start: where in it the formula begins
 * @length: its bytes
 *
 * Returns: (transfer full) (nullable): as sherd_formula_new (); NULL with the place in the whole text
 */
SherdFormula *
sherd_formula_read (const SherdTextReading *reading, const char *start, gsize length)
{
  g_autoptr (SherdFormula) formula = formula_new_empty ();
  Reader reader = { .reading = *reading, .end = start + length, .at = start };

  if (length > MOST_BYTES)
    {
      refuse (&reader, start, _ ("this is not the text of a formula."));
      return NULL;
    }
  return read_formula (&reader, formula) ? g_steal_pointer (&formula) : NULL;
}

/**
 * sherd_formula_new:
 * @text: a formula, UTF-8
 * @length: its bytes, or -1 when it ends with a zero
 * @place: (out) (nullable): where it is wrong
 * @error: SHERD_CHEM_ERROR_FORMULA; the message names the character, counted from 1
 *
 * Reads a formula as mineralogists write them: brackets of three kinds in each other, water and other parts behind a
 * middle dot (·, • or *; a point too, where it cannot be a decimal point), numbers in front of a part, plain or
 * lowered digits, decimals (0.33 or 0,33) and fractions (1/3). (Mg0.9,Fe0.1) takes the shares as written; (Mg,Fe) takes
 * equal shares and keeps the doubt. Charges and open amounts (nH2O) are refused.
 *
 * Returns: (transfer full) (nullable): the atoms in one formula unit
 */
SherdFormula *
sherd_formula_new (const char *text, gssize length, SherdTextPlace *place, GError **error)
{
  const gsize n_bytes = length < 0 ? strlen (text) : (gsize)length;
  g_autofree char *copy = g_strndup (text, n_bytes);
  const SherdTextReading reading = { copy, _ ("Formula"), SHERD_CHEM_ERROR_FORMULA, place, error };

  if (place != NULL)
    *place = (SherdTextPlace){ 0, 0 };
  if (!g_utf8_validate (copy, (gssize)n_bytes, NULL))
    {
      sherd_refuse_at (&reading, copy, _ ("this is not the text of a formula."));
      return NULL;
    }
  return sherd_formula_read (&reading, copy, n_bytes);
}

/**
 * sherd_formula_molar_mass:
 * @formula: a formula
 *
 * Returns: g/mol, with the uncertainty from atomic weights and from shares that are not written
 */
SherdValue
sherd_formula_molar_mass (const SherdFormula *formula)
{
  SherdValue mass = sherd_atoms_molar_mass (&formula->atoms);

  for (guint i = 0; i < formula->deviations->len; i++)
    mass.u = hypot (mass.u, sherd_atoms_molar_mass (&g_array_index (formula->deviations, SherdAtoms, i)).value);
  return mass;
}
