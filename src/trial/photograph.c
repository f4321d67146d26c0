/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/photograph.h"

#include <glib/gi18n-lib.h>

#include "photo/photo.h"
#include "trial/error.h"
#include "trial/part-private.h"
#include "trial/photo-file.h"
#include "trial/stage.h"

/* Our choice: a careful click on a screen is good to half a pixel. */
#define DEFAULT_MARK_SD_PX 0.5

struct _SherdPhotograph
{
  SherdPart parent_instance;

  SherdPiece *piece;
  SherdSide *side;
  char *stage;
  char *file;
  char *sha256;
  guint64 size_bytes;
  char *original_name;
  guint width_px;
  guint height_px;
  SherdMarks *marks;
  double mark_sd_px;
  SherdReference *reference;
  SherdMarks *reference_marks;
  char *camera;
  char *taken;
  double focal_35mm;
  double exposure_s;
  double f_number;
  double iso;
  char *note;
  char *source_path;
};

enum
{
  PROP_0,
  PROP_PIECE,
  PROP_SIDE,
  PROP_STAGE,
  PROP_FILE,
  PROP_SHA256,
  PROP_SIZE_BYTES,
  PROP_ORIGINAL_NAME,
  PROP_WIDTH_PX,
  PROP_HEIGHT_PX,
  PROP_MARKS,
  PROP_MARK_SD_PX,
  PROP_REFERENCE,
  PROP_REFERENCE_MARKS,
  PROP_CAMERA,
  PROP_TAKEN,
  PROP_FOCAL_35MM,
  PROP_EXPOSURE_S,
  PROP_F_NUMBER,
  PROP_ISO,
  PROP_NOTE,
  PROP_SOURCE_PATH,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_FINAL_TYPE (SherdPhotograph, sherd_photograph, SHERD_TYPE_PART)

/* The texts that are never NULL. */
static char **
find_text (SherdPhotograph *self, guint id)
{
  switch (id)
    {
    case PROP_STAGE:
      return &self->stage;
    case PROP_FILE:
      return &self->file;
    case PROP_SHA256:
      return &self->sha256;
    case PROP_ORIGINAL_NAME:
      return &self->original_name;
    case PROP_CAMERA:
      return &self->camera;
    case PROP_TAKEN:
      return &self->taken;
    case PROP_NOTE:
      return &self->note;
    default:
      return NULL;
    }
}

static double *
find_number (SherdPhotograph *self, guint id)
{
  switch (id)
    {
    case PROP_MARK_SD_PX:
      return &self->mark_sd_px;
    case PROP_FOCAL_35MM:
      return &self->focal_35mm;
    case PROP_EXPOSURE_S:
      return &self->exposure_s;
    case PROP_F_NUMBER:
      return &self->f_number;
    case PROP_ISO:
      return &self->iso;
    default:
      return NULL;
    }
}

static void
get_other_property (SherdPhotograph *self, guint id, GValue *value, GParamSpec *pspec)
{
  switch (id)
    {
    case PROP_PIECE:
      g_value_set_object (value, self->piece);
      break;
    case PROP_SIDE:
      g_value_set_object (value, self->side);
      break;
    case PROP_SIZE_BYTES:
      g_value_set_uint64 (value, self->size_bytes);
      break;
    case PROP_WIDTH_PX:
      g_value_set_uint (value, self->width_px);
      break;
    case PROP_HEIGHT_PX:
      g_value_set_uint (value, self->height_px);
      break;
    case PROP_MARKS:
      g_value_set_boxed (value, self->marks);
      break;
    case PROP_REFERENCE:
      g_value_set_object (value, self->reference);
      break;
    case PROP_REFERENCE_MARKS:
      g_value_set_boxed (value, self->reference_marks);
      break;
    case PROP_SOURCE_PATH:
      g_value_set_string (value, self->source_path);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (self, id, pspec);
    }
}

static void
sherd_photograph_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SherdPhotograph *self = SHERD_PHOTOGRAPH (object);
  char **text = find_text (self, id);
  double *number = find_number (self, id);

  if (text != NULL)
    g_value_set_string (value, *text);
  else if (number != NULL)
    g_value_set_double (value, *number);
  else
    get_other_property (self, id, value, pspec);
}

static void
replace_marks (SherdMarks **field, const GValue *value)
{
  g_clear_pointer (field, sherd_marks_free);
  *field = g_value_dup_boxed (value);
}

static void
set_other_property (SherdPhotograph *self, guint id, const GValue *value, GParamSpec *pspec)
{
  switch (id)
    {
    case PROP_PIECE:
      g_set_object (&self->piece, g_value_get_object (value));
      break;
    case PROP_SIDE:
      g_set_object (&self->side, g_value_get_object (value));
      break;
    case PROP_SIZE_BYTES:
      self->size_bytes = g_value_get_uint64 (value);
      break;
    case PROP_WIDTH_PX:
      self->width_px = g_value_get_uint (value);
      break;
    case PROP_HEIGHT_PX:
      self->height_px = g_value_get_uint (value);
      break;
    case PROP_MARKS:
      replace_marks (&self->marks, value);
      break;
    case PROP_REFERENCE:
      g_return_if_fail (g_value_get_object (value) != NULL);
      g_set_object (&self->reference, g_value_get_object (value));
      break;
    case PROP_REFERENCE_MARKS:
      replace_marks (&self->reference_marks, value);
      break;
    case PROP_SOURCE_PATH:
      g_free (self->source_path);
      self->source_path = g_value_dup_string (value);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (self, id, pspec);
    }
}

static void
sherd_photograph_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SherdPhotograph *self = SHERD_PHOTOGRAPH (object);
  char **text = find_text (self, id);
  double *number = find_number (self, id);

  if (text != NULL)
    sherd_part_replace_text (text, value);
  else if (number != NULL)
    *number = g_value_get_double (value);
  else
    set_other_property (self, id, value, pspec);
}

static void
sherd_photograph_finalize (GObject *object)
{
  SherdPhotograph *self = SHERD_PHOTOGRAPH (object);

  for (guint id = PROP_0 + 1; id < N_PROPERTIES; id++)
    if (find_text (self, id) != NULL)
      g_free (*find_text (self, id));
  g_clear_object (&self->piece);
  g_clear_object (&self->side);
  g_clear_object (&self->reference);
  g_clear_pointer (&self->marks, sherd_marks_free);
  g_clear_pointer (&self->reference_marks, sherd_marks_free);
  g_free (self->source_path);
  G_OBJECT_CLASS (sherd_photograph_parent_class)->finalize (object);
}

static GParamSpec *
text_spec (const char *name)
{
  return g_param_spec_string (name, NULL, NULL, "", SHERD_PART_PROPERTY);
}

static GParamSpec *
number_spec (const char *name, double max)
{
  return g_param_spec_double (name, NULL, NULL, 0.0, max, 0.0, SHERD_PART_PROPERTY);
}

static void
install_properties (GObjectClass *object_class)
{
  properties[PROP_PIECE] = g_param_spec_object ("piece", NULL, NULL, SHERD_TYPE_PIECE, SHERD_PART_PROPERTY);
  properties[PROP_SIDE] = g_param_spec_object ("side", NULL, NULL, SHERD_TYPE_SIDE, SHERD_PART_PROPERTY);
  properties[PROP_STAGE] = text_spec ("stage");
  properties[PROP_FILE] = text_spec ("file");
  properties[PROP_SHA256] = text_spec ("sha256");
  properties[PROP_SIZE_BYTES] = g_param_spec_uint64 ("size-bytes", NULL, NULL, 0, G_MAXINT64, 0, SHERD_PART_PROPERTY);
  properties[PROP_ORIGINAL_NAME] = text_spec ("original-name");
  properties[PROP_WIDTH_PX] = g_param_spec_uint ("width-px", NULL, NULL, 1, G_MAXINT32, 1, SHERD_PART_PROPERTY);
  properties[PROP_HEIGHT_PX] = g_param_spec_uint ("height-px", NULL, NULL, 1, G_MAXINT32, 1, SHERD_PART_PROPERTY);
  properties[PROP_MARKS] = g_param_spec_boxed ("marks", NULL, NULL, SHERD_TYPE_MARKS, SHERD_PART_PROPERTY);
  properties[PROP_MARK_SD_PX] =
    g_param_spec_double ("mark-sd-px", NULL, NULL, 0.01, 100.0, DEFAULT_MARK_SD_PX, SHERD_PART_PROPERTY);
  properties[PROP_REFERENCE] = g_param_spec_object ("reference", NULL, NULL, SHERD_TYPE_REFERENCE, SHERD_PART_PROPERTY);
  properties[PROP_REFERENCE_MARKS] =
    g_param_spec_boxed ("reference-marks", NULL, NULL, SHERD_TYPE_MARKS, SHERD_PART_PROPERTY);
  properties[PROP_CAMERA] = text_spec ("camera");
  properties[PROP_TAKEN] = text_spec ("taken");
  properties[PROP_FOCAL_35MM] = number_spec ("focal-35mm", 1e5);
  properties[PROP_EXPOSURE_S] = number_spec ("exposure-s", 1e6);
  properties[PROP_F_NUMBER] = number_spec ("f-number", 1e4);
  properties[PROP_ISO] = number_spec ("iso", 1e8);
  properties[PROP_NOTE] = text_spec ("note");
  properties[PROP_SOURCE_PATH] = g_param_spec_string ("source-path", NULL, NULL, NULL, SHERD_PART_PROPERTY);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
sherd_photograph_class_init (SherdPhotographClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = sherd_photograph_get_property;
  object_class->set_property = sherd_photograph_set_property;
  object_class->finalize = sherd_photograph_finalize;
  install_properties (object_class);
}

static void
sherd_photograph_init (SherdPhotograph *self)
{
  for (guint id = PROP_0 + 1; id < N_PROPERTIES; id++)
    if (find_text (self, id) != NULL)
      *find_text (self, id) = g_strdup ("");
  self->width_px = 1;
  self->height_px = 1;
  self->mark_sd_px = DEFAULT_MARK_SD_PX;
  self->reference = sherd_reference_new_none ();
}

static double
within (double value, double max)
{
  return value >= 0.0 && value <= max ? value : 0.0;
}

static void
take_capture_data (SherdPhotograph *self, const SherdPhotoInfo *info)
{
  if (info->camera != NULL)
    {
      g_free (self->camera);
      self->camera = g_utf8_make_valid (info->camera, -1);
    }
  if (info->taken != NULL)
    {
      g_free (self->taken);
      self->taken = g_utf8_make_valid (info->taken, -1);
    }
  self->focal_35mm = within (info->focal_35mm, 1e5);
  self->exposure_s = within (info->exposure_s, 1e6);
  self->f_number = within (info->f_number, 1e4);
  self->iso = within (info->iso, 1e8);
}

/**
 * sherd_photograph_new_from_file:
 * @path: a picture
 * @error: place for an error
 *
 * Reads the head of a picture and the SHA-256 of the whole file. Touches nothing else, so it may run in a worker
 * thread.
 *
 * Returns: (transfer full): a photograph of no trial yet, at stage "unfired"; NULL with SHERD_PHOTO_ERROR when the file
 * is no picture this program reads, or SHERD_TRIAL_ERROR_PHOTO when it cannot be read to its end
 */
SherdPhotograph *
sherd_photograph_new_from_file (const char *path, GError **error)
{
  g_autoptr (SherdPhotograph) self = g_object_new (SHERD_TYPE_PHOTOGRAPH, NULL);
  g_autoptr (SherdPhoto) photo = sherd_photo_open (path, error);
  g_autofree char *name = g_path_get_basename (path);

  if (photo == NULL)
    return NULL;
  g_free (self->sha256);
  self->sha256 = sherd_photo_file_sha256 (path, &self->size_bytes, error);
  if (self->sha256 == NULL)
    return NULL;

  self->source_path = g_canonicalize_filename (path, NULL);
  g_object_set (self, "stage", SHERD_STAGE_UNFIRED, NULL);
  g_free (self->original_name);
  self->original_name = g_filename_display_name (name);
  g_free (self->file);
  self->file = sherd_photo_file_name (self->sha256, self->original_name);
  self->width_px = sherd_photo_get_upright_width_px (photo);
  self->height_px = sherd_photo_get_upright_height_px (photo);
  take_capture_data (self, sherd_photo_get_info (photo));
  return g_steal_pointer (&self);
}

/**
 * sherd_photograph_get_piece:
 * @self: a photograph
 *
 * Returns: (transfer none): the piece it shows
 */
SherdPiece *
sherd_photograph_get_piece (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->piece;
}

/**
 * sherd_photograph_get_side:
 * @self: a photograph
 *
 * Returns: (transfer none): the side it shows
 */
SherdSide *
sherd_photograph_get_side (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->side;
}

/**
 * sherd_photograph_get_stage:
 * @self: a photograph
 *
 * Returns: the stage, see trial/stage.h
 */
const char *
sherd_photograph_get_stage (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->stage;
}

/**
 * sherd_photograph_is_unfired:
 * @self: a photograph
 *
 * Returns: whether it shows the piece before its first firing
 */
gboolean
sherd_photograph_is_unfired (SherdPhotograph *self)
{
  guint n_firings = 0;

  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), FALSE);
  return sherd_stage_parse (self->stage, &n_firings, NULL) && n_firings == 0;
}

/**
 * sherd_photograph_get_file:
 * @self: a photograph
 *
 * Returns: its name in the folder NAME.photos
 */
const char *
sherd_photograph_get_file (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->file;
}

/**
 * sherd_photograph_get_sha256:
 * @self: a photograph
 *
 * Returns: SHA-256 of the file in 64 lower case hexadecimal digits
 */
const char *
sherd_photograph_get_sha256 (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->sha256;
}

/**
 * sherd_photograph_get_size_bytes:
 * @self: a photograph
 *
 * Returns: size of the file
 */
guint64
sherd_photograph_get_size_bytes (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), 0);
  return self->size_bytes;
}

/**
 * sherd_photograph_get_original_name:
 * @self: a photograph
 *
 * Returns: what the file was called when it was added
 */
const char *
sherd_photograph_get_original_name (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->original_name;
}

/**
 * sherd_photograph_get_width_px:
 * @self: a photograph
 *
 * Returns: width of the upright photograph
 */
guint
sherd_photograph_get_width_px (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), 0);
  return self->width_px;
}

/**
 * sherd_photograph_get_height_px:
 * @self: a photograph
 *
 * Returns: height of the upright photograph
 */
guint
sherd_photograph_get_height_px (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), 0);
  return self->height_px;
}

/**
 * sherd_photograph_get_marks:
 * @self: a photograph
 *
 * Returns: (nullable): points of the side in mm, seen in upright px
 */
const SherdMarks *
sherd_photograph_get_marks (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->marks;
}

/**
 * sherd_photograph_get_mark_sd_px:
 * @self: a photograph
 *
 * Returns: standard deviation with which a mark was placed
 */
double
sherd_photograph_get_mark_sd_px (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), 0.0);
  return self->mark_sd_px;
}

/**
 * sherd_photograph_get_reference:
 * @self: a photograph
 *
 * Returns: (transfer none): what makes its light comparable; never NULL
 */
SherdReference *
sherd_photograph_get_reference (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->reference;
}

/**
 * sherd_photograph_get_reference_marks:
 * @self: a photograph
 *
 * Returns: (nullable): points of the reference's frame in mm, seen in upright px
 */
const SherdMarks *
sherd_photograph_get_reference_marks (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->reference_marks;
}

/**
 * sherd_photograph_get_camera:
 * @self: a photograph
 *
 * Returns: the camera, may be empty
 */
const char *
sherd_photograph_get_camera (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->camera;
}

/**
 * sherd_photograph_get_taken:
 * @self: a photograph
 *
 * Returns: when it was taken by the camera's clock, ISO 8601; may be empty
 */
const char *
sherd_photograph_get_taken (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->taken;
}

/**
 * sherd_photograph_get_focal_35mm:
 * @self: a photograph
 *
 * Returns: focal length as on 35 mm film, mm; 0 when not known
 */
double
sherd_photograph_get_focal_35mm (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), 0.0);
  return self->focal_35mm;
}

/**
 * sherd_photograph_get_exposure_s:
 * @self: a photograph
 *
 * Returns: exposure time; 0 when not known
 */
double
sherd_photograph_get_exposure_s (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), 0.0);
  return self->exposure_s;
}

/**
 * sherd_photograph_get_f_number:
 * @self: a photograph
 *
 * Returns: f-number; 0 when not known
 */
double
sherd_photograph_get_f_number (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), 0.0);
  return self->f_number;
}

/**
 * sherd_photograph_get_iso:
 * @self: a photograph
 *
 * Returns: ISO speed; 0 when not known
 */
double
sherd_photograph_get_iso (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), 0.0);
  return self->iso;
}

/**
 * sherd_photograph_get_note:
 * @self: a photograph
 *
 * Returns: what the potter noted, may be empty
 */
const char *
sherd_photograph_get_note (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->note;
}

/**
 * sherd_photograph_get_source_path:
 * @self: a photograph
 *
 * Returns: (nullable): where the picture lies as long as it is not beside the trial
 */
const char *
sherd_photograph_get_source_path (SherdPhotograph *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTOGRAPH (self), NULL);
  return self->source_path;
}
