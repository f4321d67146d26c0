/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/batch.h"

#include <glib/gi18n-lib.h>

#include "batch/words.h"
#include "trial/chart-file.h"
#include "trial/edits.h"
#include "trial/stage.h"

/* As the trial takes it. */
#define MARK_SD_MIN_PX 0.01
#define MARK_SD_MAX_PX 100.0

/* Size of a grey card when only its corners matter. Our choice: any rectangle has the same corners. */
#define CARD_MM 100.0

/* What was asked for on the command line; GOption fills it. */
typedef struct
{
  char *piece;
  char *side;
  char *stage;
  char *corners;
  char **marks;
  char *mark_doubt;
  char *chart;
  char *chart_grid;
  char *chart_frame;
  char *chart_margin;
  char *chart_patch;
  char *chart_gap;
  char *chart_marks;
  char *chart_corners;
  char *card;
  char *card_corners;
} Wishes;

static void
wishes_clear (Wishes *wishes)
{
  g_free (wishes->piece);
  g_free (wishes->side);
  g_free (wishes->stage);
  g_free (wishes->corners);
  g_strfreev (wishes->marks);
  g_free (wishes->mark_doubt);
  g_free (wishes->chart);
  g_free (wishes->chart_grid);
  g_free (wishes->chart_frame);
  g_free (wishes->chart_margin);
  g_free (wishes->chart_patch);
  g_free (wishes->chart_gap);
  g_free (wishes->chart_marks);
  g_free (wishes->chart_corners);
  g_free (wishes->card);
  g_free (wishes->card_corners);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wishes, wishes_clear)

static gboolean
option_error (GError **error, const char *message)
{
  g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, message);
  return FALSE;
}

static void
pair_up (const SherdPoint places_mm[4], const SherdPoint points_px[4], SherdMark marks[4])
{
  for (guint i = 0; i < 4; i++)
    marks[i] = (SherdMark){ .piece_mm = places_mm[i], .photo_px = points_px[i] };
}

static void
corners_of (double width_mm, double height_mm, SherdPoint corners_mm[4])
{
  corners_mm[0] = (SherdPoint){ .x = 0.0, .y = 0.0 };
  corners_mm[1] = (SherdPoint){ .x = width_mm, .y = 0.0 };
  corners_mm[2] = (SherdPoint){ .x = width_mm, .y = height_mm };
  corners_mm[3] = (SherdPoint){ .x = 0.0, .y = height_mm };
}

static gboolean
read_piece_marks (const Wishes *wishes, SherdPiece *piece, GArray *marks, GError **error)
{
  if (wishes->corners != NULL)
    {
      SherdPoint corners_mm[4];
      SherdPoint corners_px[4];
      SherdMark corners[4];

      corners_of (sherd_piece_get_width_mm (piece), sherd_piece_get_height_mm (piece), corners_mm);
      if (!sherd_words_four_points ("corners", wishes->corners, corners_px, error))
        return FALSE;
      pair_up (corners_mm, corners_px, corners);
      g_array_append_vals (marks, corners, 4);
    }
  for (guint i = 0; wishes->marks != NULL && wishes->marks[i] != NULL; i++)
    {
      SherdMark mark;

      if (!sherd_words_mark ("mark", wishes->marks[i], &mark, error))
        return FALSE;
      g_array_append_val (marks, mark);
    }
  return TRUE;
}

static gboolean
read_layout (const Wishes *wishes, SherdChartLayout *layout, GError **error)
{
  guint n_rows;
  guint n_columns;
  double frame_mm[2];
  double margin_mm[2];
  double patch_mm[2];
  double gap_mm[2];

  if (wishes->chart_grid == NULL)
    return option_error (error, _ ("--chart needs --chart-grid, the rows x columns of its patches."));
  if (!sherd_words_rows_columns ("chart-grid", wishes->chart_grid, &n_rows, &n_columns, error))
    return FALSE;
  sherd_chart_layout_init_plain (layout, n_rows, n_columns);
  if (wishes->chart_frame == NULL && wishes->chart_margin == NULL && wishes->chart_patch == NULL &&
      wishes->chart_gap == NULL)
    return TRUE;

  if (wishes->chart_frame == NULL || wishes->chart_margin == NULL || wishes->chart_patch == NULL ||
      wishes->chart_gap == NULL)
    return option_error (error, _ ("--chart-frame, --chart-margin, --chart-patch and --chart-gap belong together."));
  if (!sherd_words_size ("chart-frame", wishes->chart_frame, frame_mm, 2, 2, error) ||
      !sherd_words_numbers ("chart-margin", wishes->chart_margin, margin_mm, 2, TRUE, error) ||
      !sherd_words_size ("chart-patch", wishes->chart_patch, patch_mm, 2, 2, error) ||
      !sherd_words_numbers ("chart-gap", wishes->chart_gap, gap_mm, 2, TRUE, error))
    return FALSE;
  layout->frame_width_mm = frame_mm[0];
  layout->frame_height_mm = frame_mm[1];
  layout->left_mm = margin_mm[0];
  layout->top_mm = margin_mm[1];
  layout->patch_width_mm = patch_mm[0];
  layout->patch_height_mm = patch_mm[1];
  layout->gap_x_mm = gap_mm[0];
  layout->gap_y_mm = gap_mm[1];
  return TRUE;
}

static gboolean
read_chart_marks_kind (const char *text, SherdChartMarks *kind, GError **error)
{
  if (text == NULL || g_str_equal (text, "frame"))
    *kind = SHERD_CHART_MARKS_FRAME;
  else if (g_str_equal (text, "field"))
    *kind = SHERD_CHART_MARKS_FIELD;
  else if (g_str_equal (text, "centres"))
    *kind = SHERD_CHART_MARKS_PATCH_CENTRES;
  else
    return option_error (error, _ ("--chart-marks is frame, field or centres."));
  return TRUE;
}

static SherdReference *
read_chart_reference (const Wishes *wishes, SherdMark marks[4], GError **error)
{
  SherdChartLayout layout;
  SherdChartMarks kind;
  SherdPoint places_mm[4];
  SherdPoint points_px[4];
  g_autoptr (GFile) file = g_file_new_for_commandline_arg (wishes->chart);
  g_autoptr (SherdChart) chart = NULL;

  if (wishes->chart_corners == NULL)
    {
      option_error (error, _ ("--chart needs --chart-corners, where its four corners lie in the photograph."));
      return NULL;
    }
  if (!read_layout (wishes, &layout, error) || !read_chart_marks_kind (wishes->chart_marks, &kind, error) ||
      !sherd_words_four_points ("chart-corners", wishes->chart_corners, points_px, error))
    return NULL;
  chart = sherd_chart_file_load (file, error);
  if (chart == NULL)
    return NULL;
  sherd_chart_layout_marks (&layout, kind, places_mm);
  pair_up (places_mm, points_px, marks);
  return sherd_reference_new_chart (chart, &layout, error);
}

static SherdReference *
read_card_reference (const Wishes *wishes, SherdMark marks[4], GError **error)
{
  double lab[3];
  SherdPoint places_mm[4];
  SherdPoint points_px[4];

  if (wishes->card_corners == NULL)
    {
      option_error (error, _ ("--grey-card needs --card-corners, where its four corners lie in the photograph."));
      return NULL;
    }
  if (!sherd_words_numbers ("grey-card", wishes->card, lab, 3, FALSE, error) ||
      !sherd_words_four_points ("card-corners", wishes->card_corners, points_px, error))
    return NULL;
  corners_of (CARD_MM, CARD_MM, places_mm);
  pair_up (places_mm, points_px, marks);
  return sherd_reference_new_grey_card (_ ("Grey card"), CARD_MM, CARD_MM,
                                        &(SherdLab){ .l = lab[0], .a = lab[1], .b = lab[2] }, error);
}

static gboolean
describes_chart (const Wishes *wishes)
{
  return wishes->chart_grid != NULL || wishes->chart_frame != NULL || wishes->chart_margin != NULL ||
         wishes->chart_patch != NULL || wishes->chart_gap != NULL || wishes->chart_marks != NULL ||
         wishes->chart_corners != NULL;
}

/* (nullable): why the options do not belong together */
static const char *
find_contradiction (const Wishes *wishes)
{
  if (wishes->chart != NULL && wishes->card != NULL)
    return _ ("Take either --chart or --grey-card.");
  if (wishes->chart == NULL && describes_chart (wishes))
    return _ ("The options of a chart need --chart, the file with its reference values.");
  if (wishes->card == NULL && wishes->card_corners != NULL)
    return _ ("--card-corners needs --grey-card, the colour of the card.");
  return NULL;
}

static SherdReference *
read_reference (const Wishes *wishes, SherdMark marks[4], GError **error)
{
  if (wishes->chart != NULL)
    return read_chart_reference (wishes, marks, error);
  if (wishes->card != NULL)
    return read_card_reference (wishes, marks, error);
  return sherd_reference_new_none ();
}

static gboolean
read_mark_doubt (const char *text, double *mark_sd_px, GError **error)
{
  if (!sherd_words_numbers ("mark-doubt", text, mark_sd_px, 1, FALSE, error))
    return FALSE;
  return (*mark_sd_px >= MARK_SD_MIN_PX && *mark_sd_px <= MARK_SD_MAX_PX) ||
         option_error (error, _ ("--mark-doubt is from 0.01 to 100 px."));
}

/* How the photograph is to be marked. */
typedef struct
{
  GArray *piece_marks; /* of SherdMark */
  double mark_sd_px;   /* 0: not told */
  SherdReference *reference;
  SherdMark reference_marks[4];
} Marking;

static void
marking_clear (Marking *marking)
{
  g_clear_pointer (&marking->piece_marks, g_array_unref);
  g_clear_object (&marking->reference);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Marking, marking_clear)

static gboolean
read_marking (const Wishes *wishes, SherdPiece *piece, Marking *marking, GError **error)
{
  marking->piece_marks = g_array_new (FALSE, FALSE, sizeof (SherdMark));
  if (wishes->mark_doubt != NULL && !read_mark_doubt (wishes->mark_doubt, &marking->mark_sd_px, error))
    return FALSE;
  marking->reference = read_reference (wishes, marking->reference_marks, error);
  return marking->reference != NULL && read_piece_marks (wishes, piece, marking->piece_marks, error);
}

static gboolean
set_marking (SherdTrial *trial, SherdPhotograph *photograph, const Marking *marking, GError **error)
{
  const GArray *marks = marking->piece_marks;

  if (marking->mark_sd_px > 0.0)
    sherd_trial_set (trial, photograph, "mark-sd-px", marking->mark_sd_px);
  sherd_trial_set_reference (trial, photograph, marking->reference);
  return sherd_trial_set_marks (trial, photograph, (const SherdMark *)marks->data, marks->len, FALSE, error) &&
         (sherd_reference_get_kind (marking->reference) == SHERD_REFERENCE_NONE ||
          sherd_trial_set_reference_marks (trial, photograph, marking->reference_marks, 4, FALSE, error));
}

/* Reads the options before the picture is copied, so that a slip of the pen leaves nothing behind. */
static SherdPhotograph *
add_photograph (SherdTrial *trial, const char *picture, const Wishes *wishes, GError **error)
{
  SherdPiece *piece;
  SherdSide *side;
  g_auto (Marking) marking = { 0 };
  g_autoptr (SherdPhotograph) photograph = NULL;

  if (!sherd_verb_choose_side (trial, wishes->piece, wishes->side, &piece, &side, error) ||
      !read_marking (wishes, piece, &marking, error))
    return NULL;
  photograph = sherd_photograph_new_from_file (picture, error);
  if (photograph == NULL ||
      !sherd_trial_add_photograph (trial, photograph, piece, side,
                                   wishes->stage != NULL ? wishes->stage : SHERD_STAGE_UNFIRED, error) ||
      !set_marking (trial, photograph, &marking, error))
    return NULL;
  return g_steal_pointer (&photograph);
}

static SherdExit
add_and_save (const SherdVerb *verb, const char *path, const char *picture, const Wishes *wishes)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = sherd_verb_load (path, &error);
  g_autoptr (SherdPhotograph) photograph = NULL;

  if (trial == NULL)
    return sherd_verb_wrong_input (error);
  sherd_trial_begin_edit (trial, _ ("Add photograph"));
  photograph = add_photograph (trial, picture, wishes, &error);
  sherd_trial_end_edit (trial);
  if (photograph == NULL)
    return sherd_verb_refuse (verb, error);
  if (!sherd_verb_save (trial, &error))
    return sherd_verb_wrong_input (error);
  sherd_verb_say (_ ("Added photograph %s."), sherd_part_get_id (SHERD_PART (photograph)));
  return SHERD_EXIT_DONE;
}

static SherdExit
run (const SherdVerb *verb, char ***arguments)
{
  g_auto (Wishes) wishes = { 0 };
  const GOptionEntry entries[] = {
    { "piece", 'p', 0, G_OPTION_ARG_STRING, &wishes.piece, N_ ("The piece it shows; needed when there are several"),
      N_ ("NAME") },
    { "side", 0, 0, G_OPTION_ARG_STRING, &wishes.side, N_ ("The side it shows: face (unless told) or back"),
      N_ ("SIDE") },
    { "stage", 's', 0, G_OPTION_ARG_STRING, &wishes.stage,
      N_ ("“unfired” (unless told), “after firing 1”, “after firing 1, after rubbing”…"), N_ ("STAGE") },
    { "corners", 'c', 0, G_OPTION_ARG_STRING, &wishes.corners,
      N_ ("Corners of the tile in the upright photograph, px: top left, top right, bottom right, bottom left"),
      "\"X,Y X,Y X,Y X,Y\"" },
    { "mark", 'm', 0, G_OPTION_ARG_STRING_ARRAY, &wishes.marks,
      N_ ("Any other point known on the side; may be repeated"), "XMM,YMM=XPX,YPX" },
    { "mark-doubt", 0, 0, G_OPTION_ARG_STRING, &wishes.mark_doubt, N_ ("Standard uncertainty of a mark, px"), "PX" },
    { "chart", 0, 0, G_OPTION_ARG_FILENAME, &wishes.chart,
      N_ ("Reference values of the chart in the picture (CGATS.17 text)"), N_ ("FILE") },
    { "chart-grid", 0, 0, G_OPTION_ARG_STRING, &wishes.chart_grid, N_ ("Rows x columns of its patches"), "RxC" },
    { "chart-corners", 0, 0, G_OPTION_ARG_STRING, &wishes.chart_corners,
      N_ ("Its corners in the upright photograph, px, beginning where patch A1 lies, clockwise as printed"),
      "\"X,Y X,Y X,Y X,Y\"" },
    { "chart-marks", 0, 0, G_OPTION_ARG_STRING, &wishes.chart_marks,
      N_ ("What the corners are picked on: its frame (unless told), the field of patches, or the centres of the corner "
          "patches"),
      "frame|field|centres" },
    { "chart-frame", 0, 0, G_OPTION_ARG_STRING, &wishes.chart_frame, N_ ("Size of its frame, mm"), "WxH" },
    { "chart-margin", 0, 0, G_OPTION_ARG_STRING, &wishes.chart_margin, N_ ("From the frame to patch A1, mm"), "X,Y" },
    { "chart-patch", 0, 0, G_OPTION_ARG_STRING, &wishes.chart_patch, N_ ("Size of a patch, mm"), "WxH" },
    { "chart-gap", 0, 0, G_OPTION_ARG_STRING, &wishes.chart_gap, N_ ("Between patches, mm"), "X,Y" },
    { "grey-card", 0, 0, G_OPTION_ARG_STRING, &wishes.card, N_ ("A grey card instead: its colour, L*,a*,b* for D50"),
      "L,a,b" },
    { "card-corners", 0, 0, G_OPTION_ARG_STRING, &wishes.card_corners, N_ ("Its corners in the upright photograph, px"),
      "\"X,Y X,Y X,Y X,Y\"" },
    G_OPTION_ENTRY_NULL
  };
  SherdExit status;
  const char *contradiction;

  if (!sherd_verb_parse (verb, entries, arguments, 2, &status))
    return status;
  contradiction = find_contradiction (&wishes);
  if (contradiction != NULL)
    return sherd_verb_wrong_command (verb, contradiction);
  return add_and_save (verb, (*arguments)[1], (*arguments)[2], &wishes);
}

const SherdVerb sherd_verb_photograph = {
  .name = "photograph",
  .operands = N_ ("FILE PICTURE"),
  .summary = N_ ("Add a photograph with its marks and what makes its light comparable"),
  .example = "sherd photograph demo.sherdboard after.jpg --stage \"after firing 1\" "
             "--corners \"100,90 910,120 880,760 60,700\"",
  .run = run,
};
