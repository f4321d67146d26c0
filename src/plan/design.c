/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/design.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "plan/design-matrix.h"

/* One linear model of the zones, or of the pieces. */
typedef struct
{
  const SherdLayout *layout;
  SherdDesignMatrix *matrix;
  gsl_matrix *reduced;
  guint n_df; /* for scatter */
} Model;

static GArray *
mean_columns (const Model *model)
{
  GArray *columns = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < model->matrix->n_mean_columns; i++)
    g_array_append_val (columns, i);
  return columns;
}

static void
add_columns (GArray *columns, const SherdTerm *term)
{
  for (guint i = term->first_column; i < term->first_column + term->n_columns; i++)
    g_array_append_val (columns, i);
}

/* The terms of single factors but one. */
static GPtrArray *
other_terms (const Model *model, const SherdTerm *but)
{
  GPtrArray *others = g_ptr_array_new ();

  for (guint i = 0; i < model->matrix->n_terms; i++)
    {
      SherdTerm *term = &model->matrix->terms[i];

      if (term != but && term->other == SHERD_TERM_ALONE && term->n_columns > 0)
        g_ptr_array_add (others, term);
    }
  return others;
}

static SherdInformation
inform (const Model *model, const SherdTerm *term, GPtrArray *others, gsl_matrix **lost)
{
  g_autoptr (GArray) columns = mean_columns (model);

  for (guint i = 0; i < others->len; i++)
    add_columns (columns, g_ptr_array_index (others, i));
  return sherd_design_matrix_inform (model->reduced, term, columns, lost);
}

/* How many directions of all single factors together, the mean among them, can be told. */
static guint
count_rank (const Model *model)
{
  g_autoptr (GPtrArray) terms = other_terms (model, NULL);
  g_autoptr (GArray) columns = mean_columns (model);
  g_autoptr (gsl_matrix) single = NULL;

  for (guint i = 0; i < terms->len; i++)
    add_columns (columns, g_ptr_array_index (terms, i));
  single = gsl_matrix_alloc (model->reduced->size1, columns->len);
  for (guint i = 0; i < columns->len; i++)
    {
      gsl_vector_const_view column = gsl_matrix_const_column (model->reduced, g_array_index (columns, guint, i));

      gsl_matrix_set_col (single, i, &column.vector);
    }
  return sherd_design_matrix_rank (single);
}

static void
model_init (Model *model, const SherdLayout *layout, const gboolean *factors, gboolean with_pairs)
{
  model->layout = layout;
  model->matrix = sherd_design_matrix_new (layout, factors, with_pairs);
  model->reduced = sherd_design_matrix_reduce (model->matrix->rows);
  model->n_df = layout->n_zones - count_rank (model);
}

static void
model_clear (Model *model)
{
  sherd_design_matrix_free (model->matrix);
  gsl_matrix_free (model->reduced);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Model, model_clear)

static SherdTerm *
find_term (const Model *model, guint factor)
{
  for (guint i = 0; i < model->matrix->n_terms; i++)
    if (model->matrix->terms[i].factor == factor && model->matrix->terms[i].other == SHERD_TERM_ALONE)
      return &model->matrix->terms[i];
  return NULL;
}

static int
compare_numbers (gconstpointer a, gconstpointer b)
{
  const double first = *(const double *)a, second = *(const double *)b;

  return (first > second) - (first < second);
}

static GArray *
known_numbers (const SherdLayout *layout, const SherdFactor *factor)
{
  GArray *numbers = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint zone = 0; zone < layout->n_zones; zone++)
    if (isfinite (factor->values[zone]))
      g_array_append_val (numbers, factor->values[zone]);
  g_array_sort (numbers, compare_numbers);
  return numbers;
}

static double
variance (const GArray *numbers)
{
  double sum = 0.0, sum_squares = 0.0;

  for (guint i = 0; i < numbers->len; i++)
    sum += g_array_index (numbers, double, i) / numbers->len;
  for (guint i = 0; i < numbers->len; i++)
    {
      const double off = g_array_index (numbers, double, i) - sum;

      sum_squares += off * off / numbers->len;
    }
  return sum_squares;
}

/* ln of the variance of the numbers if each stood as often as the others ÷ the variance they have. */
static double
log_imbalance_of_numbers (const SherdLayout *layout, const SherdFactor *factor)
{
  g_autoptr (GArray) numbers = known_numbers (layout, factor);
  g_autoptr (GArray) distinct = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; i < numbers->len; i++)
    if (i == 0 || g_array_index (numbers, double, i) != g_array_index (numbers, double, i - 1))
      g_array_append_vals (distinct, &g_array_index (numbers, double, i), 1);
  return log (variance (distinct) / variance (numbers));
}

/* Likewise for the determinant of the information on k levels, n^(k−1) · p1 · p2 … pk, which is largest with all p
 * 1 / k. */
static double
log_imbalance_of_levels (const SherdLayout *layout, const SherdFactor *factor)
{
  double n_known = 0.0, n_used = 0.0, log_shares = 0.0;

  for (guint level = 0; level < factor->n_levels; level++)
    n_known += sherd_layout_count_zones (layout, factor, level);
  for (guint level = 0; level < factor->n_levels; level++)
    {
      const guint n = sherd_layout_count_zones (layout, factor, level);

      n_used += n > 0;
      log_shares += n > 0 ? log (n / n_known) : 0.0;
    }
  return -n_used * log (n_used) - log_shares;
}

/* ln of the determinant of the covariance of the directions' cosines and sines. */
static double
log_spread (const GArray *degrees)
{
  double cos_sum = 0.0, sin_sum = 0.0, cos_2 = 0.0, sin_2 = 0.0, both = 0.0;

  for (guint i = 0; i < degrees->len; i++)
    {
      const double angle = g_array_index (degrees, double, i) * G_PI / 180.0;

      cos_sum += cos (angle) / degrees->len;
      sin_sum += sin (angle) / degrees->len;
      cos_2 += cos (angle) * cos (angle) / degrees->len;
      sin_2 += sin (angle) * sin (angle) / degrees->len;
      both += cos (angle) * sin (angle) / degrees->len;
    }
  return log ((cos_2 - cos_sum * cos_sum) * (sin_2 - sin_sum * sin_sum) - pow (both - cos_sum * sin_sum, 2.0));
}

/* Likewise for directions; of two of them it is a matter of how many zones have the one and the other. */
static double
log_imbalance_of_directions (const SherdLayout *layout, const SherdFactor *factor)
{
  g_autoptr (GArray) degrees = known_numbers (layout, factor);
  g_autoptr (GArray) distinct = g_array_new (FALSE, FALSE, sizeof (double));
  double n_first = 0.0;

  for (guint i = 0; i < degrees->len; i++)
    {
      const double deg = g_array_index (degrees, double, i);
      gboolean is_new = TRUE;

      for (guint j = 0; j < distinct->len && is_new; j++)
        is_new = !sherd_layout_same_direction (deg, g_array_index (distinct, double, j));
      if (is_new)
        g_array_append_val (distinct, deg);
      n_first += sherd_layout_same_direction (deg, g_array_index (distinct, double, 0));
    }
  if (distinct->len > 2)
    return log_spread (distinct) - log_spread (degrees);
  return log (0.25 / (n_first / degrees->len * (1.0 - n_first / degrees->len)));
}

static double
log_imbalance (const SherdLayout *layout, const SherdFactor *factor)
{
  if (factor->is_direction)
    return log_imbalance_of_directions (layout, factor);
  return factor->levels != NULL ? log_imbalance_of_levels (layout, factor) : log_imbalance_of_numbers (layout, factor);
}

/* An interval of 95 % from so few degrees of freedom ÷ that with scatter known: Student's t over the normal. */
static double
loss_by_scatter (guint n_df)
{
  return gsl_cdf_tdist_Pinv (0.975, n_df) / gsl_cdf_ugaussian_Pinv (0.975);
}

static gboolean
explains (const Model *model, const SherdTerm *term, GPtrArray *terms, guint rank)
{
  return inform (model, term, terms, NULL).rank <= rank;
}

/* One or two terms from which @term cannot be told more than from all others, if there are such. */
static gboolean
find_one_or_two (const Model *model, const SherdTerm *term, GPtrArray *others, guint rank, GPtrArray *found)
{
  for (guint i = 0; i < others->len; i++)
    {
      g_ptr_array_set_size (found, 0);
      g_ptr_array_add (found, g_ptr_array_index (others, i));
      if (explains (model, term, found, rank))
        return TRUE;
    }
  for (guint i = 0; i < others->len; i++)
    for (guint j = i + 1; j < others->len; j++)
      {
        g_ptr_array_set_size (found, 0);
        g_ptr_array_add (found, g_ptr_array_index (others, i));
        g_ptr_array_add (found, g_ptr_array_index (others, j));
        if (explains (model, term, found, rank))
          return TRUE;
      }
  return FALSE;
}

/* As few others as it takes to make @term untellable: one, two, or what is left when none more can be spared. */
static GArray *
find_causes (const Model *model, const SherdTerm *term, GPtrArray *others, guint rank)
{
  GArray *causes = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GPtrArray) found = g_ptr_array_new ();

  if (!find_one_or_two (model, term, others, rank, found))
    {
      g_ptr_array_set_size (found, 0);
      g_ptr_array_extend (found, others, NULL, NULL);
      for (guint i = others->len; i-- > 0;)
        {
          SherdTerm *spared = g_ptr_array_remove_index (found, i);

          if (!explains (model, term, found, rank))
            g_ptr_array_insert (found, (gint)i, spared);
        }
    }
  for (guint i = 0; i < found->len; i++)
    g_array_append_val (causes, ((SherdTerm *)g_ptr_array_index (found, i))->factor);
  return causes;
}

/* Pairs of other factors that, were they to act together, could not be told from @term. */
static GArray *
find_provided (const Model *model, const SherdTerm *term, GPtrArray *others)
{
  GArray *provided = g_array_new (FALSE, FALSE, sizeof (SherdFactorPair));

  for (guint i = 0; i < model->matrix->n_terms; i++)
    {
      SherdTerm *pair = &model->matrix->terms[i];

      if (pair->other == SHERD_TERM_ALONE || pair->factor == term->factor || pair->other == term->factor ||
          sherd_layout_get_factor (model->layout, pair->factor)->role == SHERD_ROLE_PIECE ||
          sherd_layout_get_factor (model->layout, pair->other)->role == SHERD_ROLE_PIECE)
        continue;
      g_ptr_array_add (others, pair);
      if (inform (model, term, others, NULL).rank < term->n_columns)
        {
          const SherdFactorPair found = { .first = pair->factor, .second = pair->other };

          g_array_append_val (provided, found);
        }
      g_ptr_array_set_size (others, (gint)others->len - 1);
    }
  return provided;
}

/* By how much the effect of a level may be shifted along a lost direction with nothing to show for it. The first level
 * used is the one that the others are compared with; columns are in units of their standard deviation. */
static double
shift_of_level (const Model *model, const SherdFactor *factor, guint level, guint column, const gsl_vector *lost)
{
  double n_known = 0.0, share;

  if (column == 0)
    return 0.0;
  for (guint i = 0; i < factor->n_levels; i++)
    n_known += sherd_layout_count_zones (model->layout, factor, i);
  share = sherd_layout_count_zones (model->layout, factor, level) / n_known;
  return gsl_vector_get (lost, column - 1) / sqrt (share * (1.0 - share));
}

/* Levels that keep together along every lost direction can be told from each other. */
static guint *
find_groups (const Model *model, const SherdFactor *factor, const gsl_matrix *lost)
{
  guint *groups = g_new (guint, factor->n_levels + 1);
  g_autofree double *shifts = g_new0 (double, factor->n_levels * lost->size2 + 1);
  guint column = 0;

  for (guint level = 0; level < factor->n_levels; level++)
    {
      groups[level] = G_MAXUINT;
      if (sherd_layout_count_zones (model->layout, factor, level) == 0)
        continue;
      for (guint i = 0; i < lost->size2; i++)
        {
          gsl_vector_const_view direction = gsl_matrix_const_column (lost, i);

          shifts[level * lost->size2 + i] = shift_of_level (model, factor, level, column, &direction.vector);
        }
      column++;
      groups[level] = level;
      for (guint other = 0; other < level && groups[level] == level; other++)
        {
          double largest = 0.0;

          for (guint i = 0; i < lost->size2; i++)
            largest = fmax (largest, fabs (shifts[level * lost->size2 + i] - shifts[other * lost->size2 + i]));
          if (groups[other] != G_MAXUINT && largest < 1e-6)
            groups[level] = groups[other];
        }
    }
  return groups;
}

static guint
count_unknown (const SherdLayout *layout, const SherdFactor *factor)
{
  guint n_unknown = 0;

  for (guint zone = 0; zone < layout->n_zones; zone++)
    n_unknown += isinf (factor->values[zone]) != 0;
  return n_unknown;
}

static void
judge_confounded (const Model *model, const SherdTerm *term, GPtrArray *others, guint rank, SherdVerdict *verdict)
{
  const SherdFactor *factor = sherd_layout_get_factor (model->layout, term->factor);
  g_autoptr (gsl_matrix) lost = NULL;

  verdict->tell = rank > 0 ? SHERD_TELL_PARTLY : SHERD_TELL_NOT;
  verdict->from = find_causes (model, term, others, rank);
  if (rank > 0 && factor->levels != NULL)
    {
      inform (model, term, others, &lost);
      verdict->groups = find_groups (model, factor, lost);
    }
}

static void
judge (const Model *model, guint number, gboolean with_pairs, SherdVerdict *verdict)
{
  const SherdFactor *factor = sherd_layout_get_factor (model->layout, number);
  const SherdTerm *term = find_term (model, number);
  g_autoptr (GPtrArray) others = other_terms (model, term);
  SherdInformation information;

  verdict->n_scatter_df = model->n_df;
  verdict->loss = INFINITY;
  verdict->inflation = INFINITY;
  if (term->n_columns == 0)
    return;
  information = inform (model, term, others, NULL);
  if (information.rank < information.n_columns)
    {
      judge_confounded (model, term, others, information.rank, verdict);
      return;
    }
  verdict->inflation = exp (-information.log_left / term->n_columns);
  verdict->loss = sqrt (verdict->inflation) * exp (0.5 * log_imbalance (model->layout, factor) / term->n_columns);
  if (with_pairs)
    verdict->provided = find_provided (model, term, others);
  verdict->from_chance = model->n_df == 0;
  verdict->loss *= model->n_df > 0 ? loss_by_scatter (model->n_df) : (double)INFINITY;
  verdict->tell = verdict->from_chance               ? SHERD_TELL_NOT
                  : verdict->loss >= SHERD_WEAK_LOSS ? SHERD_TELL_WEAKLY
                                                     : SHERD_TELL_WELL;
}

/* Whether all zones of a piece are alike in it. */
static gboolean
belongs_to_pieces (const SherdLayout *layout, const SherdFactor *factor, const SherdFactor *pieces)
{
  g_autofree double *values = g_new (double, pieces->n_levels + 1);

  for (guint piece = 0; piece < pieces->n_levels; piece++)
    values[piece] = NAN;
  for (guint zone = 0; zone < layout->n_zones; zone++)
    {
      double *value = &values[(guint)pieces->values[zone]];

      if (isnan (factor->values[zone]))
        return FALSE;
      if (isnan (*value))
        *value = factor->values[zone];
      if (*value != factor->values[zone])
        return FALSE;
    }
  return TRUE;
}

/* One zone of each piece. */
static SherdLayout *
take_pieces (const SherdLayout *layout, const SherdFactor *pieces, const gboolean *factors)
{
  g_autofree guint *zones = g_new (guint, pieces->n_levels + 1);

  for (guint zone = layout->n_zones; zone-- > 0;)
    zones[(guint)pieces->values[zone]] = zone;
  return sherd_layout_take (layout, zones, pieces->n_levels, factors);
}

/* What differs only between pieces is judged by pieces: zones of one piece are no repetition of its firing. */
static void
judge_pieces (const SherdLayout *layout, const SherdFactor *pieces, const gboolean *of_pieces, SherdDesign *design)
{
  g_autoptr (SherdLayout) taken = take_pieces (layout, pieces, of_pieces);
  g_autofree gboolean *all = g_new (gboolean, taken->factors->len + 1);
  g_autofree guint *numbers = g_new (guint, taken->factors->len + 1);
  g_auto (Model) model = { 0 };
  guint n = 0;

  for (guint i = 0; i < layout->factors->len; i++)
    if (of_pieces[i])
      {
        all[n] = TRUE;
        numbers[n++] = i;
      }
  model_init (&model, taken, all, FALSE);
  for (guint i = 0; i < n; i++)
    {
      SherdVerdict *verdict = &design->verdicts[numbers[i]];

      judge (&model, i, FALSE, verdict);
      verdict->from_piece = verdict->from_chance;
      verdict->from_chance = FALSE;
      for (guint j = 0; verdict->from != NULL && j < verdict->from->len; j++)
        g_array_index (verdict->from, guint, j) = numbers[g_array_index (verdict->from, guint, j)];
    }
}

/* Judges the factors of @asked by a model of @factors. */
static void
judge_zones (const SherdLayout *layout,
             const gboolean *factors,
             SherdRole but,
             gboolean with_pairs,
             SherdDesign *design)
{
  g_autofree gboolean *taken = g_new0 (gboolean, layout->factors->len + 1);
  g_auto (Model) model = { 0 };

  for (guint i = 0; i < layout->factors->len; i++)
    taken[i] = factors[i] && sherd_layout_get_factor (layout, i)->role != but;
  model_init (&model, layout, taken, with_pairs);
  for (guint i = 0; i < layout->factors->len; i++)
    {
      const gboolean is_composition = sherd_layout_get_factor (layout, i)->role == SHERD_ROLE_COMPOSITION;

      if (taken[i] && is_composition == (but == SHERD_ROLE_PAINT))
        judge (&model, i, with_pairs, &design->verdicts[i]);
    }
}

static SherdDesign *
design_new (const SherdLayout *layout)
{
  SherdDesign *self = g_new0 (SherdDesign, 1);

  self->n_verdicts = layout->factors->len;
  self->verdicts = g_new0 (SherdVerdict, self->n_verdicts + 1);
  for (guint i = 0; i < self->n_verdicts; i++)
    {
      SherdVerdict *verdict = &self->verdicts[i];

      verdict->factor = i;
      verdict->loss = verdict->inflation = INFINITY;
      verdict->n_unknown = count_unknown (layout, sherd_layout_get_factor (layout, i));
      verdict->tell = verdict->n_unknown > 0 ? SHERD_TELL_UNKNOWN : SHERD_TELL_SAME;
    }
  return self;
}

/**
 * sherd_design_new:
 * @layout: all zones of the trial, with all that may matter
 * @with_pairs: whether to look for factors that act together (SherdVerdict.provided); costs more
 *
 * Says of each factor whether the layout can tell if it matters. The model is linear: what a paint does, plus what the
 * place does. Which paint lies there stands for all that is in it; the share of something in the paints is asked in a
 * model of all shares instead. What differs between pieces alone (a firing) is judged piece by piece. A factor that is
 * not known of some painted zone is left out.
 *
 * Returns: (transfer full): a verdict for each factor
 */
SherdDesign *
sherd_design_new (const SherdLayout *layout, gboolean with_pairs)
{
  SherdDesign *self = design_new (layout);
  const SherdFactor *pieces = sherd_layout_find_role (layout, SHERD_ROLE_PIECE);
  const gboolean several = pieces != NULL && pieces->n_levels > 1;
  g_autofree gboolean *of_zones = g_new0 (gboolean, layout->factors->len + 1);
  g_autofree gboolean *of_pieces = g_new0 (gboolean, layout->factors->len + 1);

  if (layout->n_zones == 0)
    return self;
  for (guint i = 0; i < layout->factors->len; i++)
    {
      const SherdFactor *factor = sherd_layout_get_factor (layout, i);
      const gboolean known = self->verdicts[i].n_unknown == 0;

      of_pieces[i] = known && several && factor->role == SHERD_ROLE_PLACE && belongs_to_pieces (layout, factor, pieces);
      of_zones[i] = known && !of_pieces[i];
    }
  judge_zones (layout, of_zones, SHERD_ROLE_COMPOSITION, with_pairs, self);
  judge_zones (layout, of_zones, SHERD_ROLE_PAINT, with_pairs, self);
  if (several)
    judge_pieces (layout, pieces, of_pieces, self);
  return self;
}

void
sherd_design_free (SherdDesign *self)
{
  for (guint i = 0; i < self->n_verdicts; i++)
    {
      g_clear_pointer (&self->verdicts[i].from, g_array_unref);
      g_clear_pointer (&self->verdicts[i].provided, g_array_unref);
      g_free (self->verdicts[i].groups);
    }
  g_free (self->verdicts);
  g_free (self);
}
