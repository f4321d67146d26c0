/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "tile-picture.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <jpeglib.h>
#include <png.h>

#include "colour/srgb.h"
#include "shape/grid.h"

/* The table on which tile and chart lie, in mm; it fills the photograph. */
#define TABLE_WIDTH_MM 300.0
#define TABLE_HEIGHT_MM 200.0
#define TILE_LEFT_MM 12.0
#define TILE_TOP_MM 15.0
#define TILE_WIDTH_MM 190.0
#define TILE_HEIGHT_MM 170.0
#define CHART_LEFT_MM 212.0
#define CHART_TOP_MM 38.0
#define CHART_COLUMNS 4u
#define CHART_ROWS 6u
#define PATCH_PITCH_MM 20.0
#define PATCH_SIDE_MM 16.0
#define CHART_WIDTH_MM (CHART_COLUMNS * PATCH_PITCH_MM)
#define CHART_HEIGHT_MM (CHART_ROWS * PATCH_PITCH_MM)

/* The lamp, in mm from the table's top left corner and above it. */
#define LAMP_X_MM (-150.0)
#define LAMP_Y_MM (-120.0)
#define LAMP_Z_MM 650.0

#define NOISE_CODES 2.6 /* standard deviation in 8-bit codes: files of 1.1 bits a pixel, as telephones write */
#define MOTTLE_FRAC 0.04
#define GONE_FRAC 0.1 /* of the paint, after firing */
#define N_ENCODED 4096

static const float clay[3] = { 0.42f, 0.24f, 0.14f };
static const float table_top[3] = { 0.16f, 0.16f, 0.17f };
static const float chart_base[3] = { 0.03f, 0.03f, 0.03f };

typedef struct
{
  const TilePicture *picture;
  SherdHomography table;
  SherdGrid grid;
  float (*paints)[3]; /* one a zone */
  float patches[TILE_N_PATCHES][3];
  guint8 encoded[N_ENCODED + 1];
  guint64 noise_state;
} Scene;

/* From 0 to 1, the same for the same arguments (the finaliser of MurmurHash3, public domain). */
static float
hash_frac (guint32 x, guint32 y, guint32 seed)
{
  guint32 h = x * 0x9e3779b1u ^ y * 0x85ebca6bu ^ seed * 0xc2b2ae35u;

  h = (h ^ (h >> 16)) * 0x85ebca6bu;
  h = (h ^ (h >> 13)) * 0xc2b2ae35u;
  return (float)((h ^ (h >> 16)) & 0xffffff) / 16777215.0f;
}

/* Smooth from 0 to 1, one swell per unit. */
static float
value_noise (float x, float y, guint32 seed)
{
  const float x0 = floorf (x), y0 = floorf (y), fx = x - x0, fy = y - y0;
  const guint32 ix = (guint32)(int)x0, iy = (guint32)(int)y0;
  const float top = hash_frac (ix, iy, seed) * (1 - fx) + hash_frac (ix + 1, iy, seed) * fx;
  const float low = hash_frac (ix, iy + 1, seed) * (1 - fx) + hash_frac (ix + 1, iy + 1, seed) * fx;

  return top * (1 - fy) + low * fy;
}

/* About normal, standard deviation 1: the sum of four even ones (central limit theorem). */
static float
camera_noise (Scene *scene)
{
  guint64 s = scene->noise_state;
  guint sum;

  s ^= s << 13;
  s ^= s >> 7;
  s ^= s << 17;
  scene->noise_state = s;
  sum = (guint)((s & 0xffff) + (s >> 16 & 0xffff) + (s >> 32 & 0xffff) + (s >> 48));
  return ((float)sum / 65536.0f - 2.0f) * 1.732f;
}

static void
mix_paints (Scene *scene)
{
  const guint n = scene->picture->n_rows * scene->picture->n_columns;

  scene->paints = g_malloc_n (n, sizeof *scene->paints);
  for (guint i = 0; i < n; i++)
    for (guint c = 0; c < 3; c++)
      scene->paints[i][c] =
        (0.03f + 0.4f * hash_frac (i, c, 11) * hash_frac (i, 3, 12)) * (scene->picture->fired ? 0.7f : 1.0f);
}

/* A row of greys and the rest spread over the colours. */
static void
mix_patches (Scene *scene)
{
  for (guint i = 0; i < TILE_N_PATCHES; i++)
    for (guint c = 0; c < 3; c++)
      scene->patches[i][c] =
        i < 6 ? 0.85f * powf (0.55f, (float)i) : 0.04f + 0.6f * (float)((i * (c + 3) * 7 + c * 5) % 17) / 16.0f;
}

static void
place (const TilePicture *picture, double left_mm, double top_mm, double width_mm, double height_mm, SherdMark marks[4])
{
  const double scale = picture->width_px / TABLE_WIDTH_MM;

  for (guint k = 0; k < 4; k++)
    {
      const double x = k == 1 || k == 2 ? width_mm : 0, y = k >= 2 ? height_mm : 0;
      const double nearer = 1 + 2e-4 * (left_mm + x) + 1e-4 * (top_mm + y);

      marks[k].piece_mm = (SherdPoint){ x, y };
      marks[k].photo_px = (SherdPoint){ scale * (left_mm + x) / nearer, scale * (top_mm + y) / nearer };
    }
}

static SherdGrid
zone_grid (const TilePicture *picture)
{
  const double gap_mm = MIN (4.0, 0.25 * TILE_WIDTH_MM / picture->n_columns);

  return (SherdGrid){ picture->n_rows, picture->n_columns, 6, 6, 6, 6, gap_mm, gap_mm };
}

static void
scene_init (Scene *scene, const TilePicture *picture)
{
  SherdMark marks[4];

  memset (scene, 0, sizeof *scene);
  scene->picture = picture;
  scene->noise_state = 88172645463325252u + (picture->fired ? 1u : 0u);
  scene->grid = zone_grid (picture);
  mix_paints (scene);
  mix_patches (scene);
  for (guint i = 0; i <= N_ENCODED; i++)
    scene->encoded[i] = (guint8)lrint (255 * sherd_srgb_encode ((double)i / N_ENCODED));
  place (picture, 0, 0, TABLE_WIDTH_MM, TABLE_HEIGHT_MM, marks);
  sherd_homography_fit (&scene->table, marks, 4, 0.5, NULL);
}

static const float *
tile_colour (const Scene *scene, double x_mm, double y_mm)
{
  const TilePicture *picture = scene->picture;
  const SherdRectangle first = sherd_grid_cell (&scene->grid, TILE_WIDTH_MM, TILE_HEIGHT_MM, 0, 0);
  const double pitch_x = first.width_mm + scene->grid.gap_x_mm, pitch_y = first.height_mm + scene->grid.gap_y_mm;
  const double column = floor ((x_mm - first.x_mm) / pitch_x), row = floor ((y_mm - first.y_mm) / pitch_y);

  if (column < 0 || row < 0 || column >= picture->n_columns || row >= picture->n_rows ||
      x_mm - first.x_mm - column * pitch_x > first.width_mm || y_mm - first.y_mm - row * pitch_y > first.height_mm)
    return clay;
  if (picture->fired && value_noise ((float)x_mm * 0.7f, (float)y_mm * 0.7f, 5) < 2.5f * (float)GONE_FRAC)
    return clay;
  return scene->paints[(guint)row * picture->n_columns + (guint)column];
}

static const float *
chart_colour (const Scene *scene, double x_mm, double y_mm)
{
  const double column = floor (x_mm / PATCH_PITCH_MM), row = floor (y_mm / PATCH_PITCH_MM);
  const double edge_mm = (PATCH_PITCH_MM - PATCH_SIDE_MM) / 2;
  const double x = x_mm - column * PATCH_PITCH_MM - edge_mm, y = y_mm - row * PATCH_PITCH_MM - edge_mm;

  if (x < 0 || y < 0 || x > PATCH_SIDE_MM || y > PATCH_SIDE_MM)
    return chart_base;
  return scene->patches[(guint)row * CHART_COLUMNS + (guint)column];
}

static const float *
colour_at (const Scene *scene, SherdPoint at_mm, gboolean *mottled)
{
  const double x_tile = at_mm.x - TILE_LEFT_MM, y_tile = at_mm.y - TILE_TOP_MM;
  const double x_chart = at_mm.x - CHART_LEFT_MM, y_chart = at_mm.y - CHART_TOP_MM;

  *mottled = x_tile >= 0 && y_tile >= 0 && x_tile < TILE_WIDTH_MM && y_tile < TILE_HEIGHT_MM;
  if (*mottled)
    return tile_colour (scene, x_tile, y_tile);
  if (x_chart >= 0 && y_chart >= 0 && x_chart < CHART_WIDTH_MM && y_chart < CHART_HEIGHT_MM)
    return chart_colour (scene, x_chart, y_chart);
  return table_top;
}

/* Inverse square and cosine laws, 1 below the lamp. */
static double
light_at (SherdPoint at_mm)
{
  const double square = pow (at_mm.x - LAMP_X_MM, 2) + pow (at_mm.y - LAMP_Y_MM, 2) + LAMP_Z_MM * LAMP_Z_MM;

  return LAMP_Z_MM * LAMP_Z_MM * LAMP_Z_MM / (square * sqrt (square));
}

static void
draw_row (Scene *scene, guint row_px, guint8 *rgb)
{
  for (guint x = 0; x < scene->picture->width_px; x++)
    {
      const SherdPoint at_mm = sherd_homography_to_piece (&scene->table, (SherdPoint){ x + 0.5, row_px + 0.5 });
      gboolean mottled;
      const float *colour = colour_at (scene, at_mm, &mottled);
      float light = (float)light_at (at_mm);

      if (mottled)
        light *= 1 + (float)MOTTLE_FRAC * (value_noise ((float)at_mm.x, (float)at_mm.y, 1) +
                                           value_noise ((float)at_mm.x * 5, (float)at_mm.y * 5, 2) - 1);
      for (guint c = 0; c < 3; c++)
        {
          const float linear = MIN (colour[c] * light, 1.0f);
          const float code = scene->encoded[(guint)(linear * N_ENCODED)] + (float)NOISE_CODES * camera_noise (scene);

          rgb[3 * x + c] = (guint8)CLAMP (code + 0.5f, 0.0f, 255.0f);
        }
    }
}

/* As cameras do: baseline, halved colour, little loss. */
static void
start_jpeg (j_compress_ptr jpeg, const TilePicture *picture)
{
  jpeg->image_width = picture->width_px;
  jpeg->image_height = picture->height_px;
  jpeg->input_components = 3;
  jpeg->in_color_space = JCS_RGB;
  jpeg_set_defaults (jpeg);
  jpeg_set_quality (jpeg, 92, TRUE);
  jpeg_start_compress (jpeg, TRUE);
}

/* FALSE when the file cannot be written. */
gboolean
tile_picture_write_jpeg (const TilePicture *picture, const char *path)
{
  g_autofree guint8 *rgb = g_malloc (3 * (gsize)picture->width_px);
  FILE *file = fopen (path, "wb");
  struct jpeg_compress_struct jpeg;
  struct jpeg_error_mgr errors;
  Scene scene;

  if (file == NULL)
    return FALSE;
  scene_init (&scene, picture);
  jpeg.err = jpeg_std_error (&errors);
  jpeg_create_compress (&jpeg);
  jpeg_stdio_dest (&jpeg, file);
  start_jpeg (&jpeg, picture);
  for (guint row = 0; row < picture->height_px; row++)
    {
      draw_row (&scene, row, rgb);
      jpeg_write_scanlines (&jpeg, &rgb, 1);
    }
  jpeg_finish_compress (&jpeg);
  jpeg_destroy_compress (&jpeg);
  g_free (scene.paints);
  return fclose (file) == 0;
}

/* FALSE when the file cannot be written. */
gboolean
tile_picture_write_png (const TilePicture *picture, const char *path)
{
  g_autofree guint8 *rgb = g_malloc (3 * (gsize)picture->width_px);
  png_structp png = png_create_write_struct (PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
  png_infop info = png_create_info_struct (png);
  FILE *file = fopen (path, "wb");
  Scene scene;

  if (file == NULL)
    {
      png_destroy_write_struct (&png, &info);
      return FALSE;
    }
  scene_init (&scene, picture);
  png_init_io (png, file);
  png_set_compression_level (png, 1);
  png_set_IHDR (png, info, picture->width_px, picture->height_px, 8, PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
                PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  png_write_info (png, info);
  for (guint row = 0; row < picture->height_px; row++)
    {
      draw_row (&scene, row, rgb);
      png_write_row (png, rgb);
    }
  png_write_end (png, info);
  png_destroy_write_struct (&png, &info);
  g_free (scene.paints);
  return fclose (file) == 0;
}

static void
add_zones (TileRequest *self, const TilePicture *picture)
{
  const SherdGrid grid = zone_grid (picture);
  const guint n = picture->n_rows * picture->n_columns;

  self->zones = g_new0 (SherdMeasureZone, n);
  for (guint i = 0; i < n; i++)
    {
      const SherdRectangle cell =
        sherd_grid_cell (&grid, TILE_WIDTH_MM, TILE_HEIGHT_MM, i / picture->n_columns, i % picture->n_columns);

      self->zones[i].code = sherd_grid_code (i / picture->n_columns, i % picture->n_columns);
      self->zones[i].id = self->zones[i].code;
      self->zones[i].outline_mm = sherd_outline_new_rectangle (cell.x_mm, cell.y_mm, cell.width_mm, cell.height_mm);
    }
}

static void
add_patches (TileRequest *self)
{
  const double edge_mm = (PATCH_PITCH_MM - PATCH_SIDE_MM) / 2;
  Scene scene;

  mix_patches (&scene);
  for (guint i = 0; i < TILE_N_PATCHES; i++)
    {
      const SherdRgb linear = { scene.patches[i][0], scene.patches[i][1], scene.patches[i][2] };
      const SherdXyz xyz = sherd_srgb_to_xyz_d50 (&linear);

      self->patches[i].name = "patch";
      self->patches[i].lab = sherd_lab_from_xyz (&xyz);
      self->patches[i].outline_mm =
        sherd_outline_new_rectangle ((i % CHART_COLUMNS) * PATCH_PITCH_MM + edge_mm,
                                     (i / CHART_COLUMNS) * PATCH_PITCH_MM + edge_mm, PATCH_SIDE_MM, PATCH_SIDE_MM);
    }
}

/* (transfer full) */
TileRequest *
tile_request_new (const TilePicture *picture, const char *path)
{
  TileRequest *self = g_new0 (TileRequest, 1);

  self->path = g_strdup (path);
  place (picture, TILE_LEFT_MM, TILE_TOP_MM, TILE_WIDTH_MM, TILE_HEIGHT_MM, self->marks);
  place (picture, CHART_LEFT_MM, CHART_TOP_MM, CHART_WIDTH_MM, CHART_HEIGHT_MM, self->chart_marks);
  add_zones (self, picture);
  add_patches (self);
  self->request = (SherdMeasureRequest){
    .photo_path = self->path,
    .face_width_mm = TILE_WIDTH_MM,
    .face_height_mm = TILE_HEIGHT_MM,
    .marks = self->marks,
    .n_marks = 4,
    .zones = self->zones,
    .n_zones = picture->n_rows * picture->n_columns,
    .reference = SHERD_REFERENCE_CHART,
    .reference_marks = self->chart_marks,
    .n_reference_marks = 4,
    .patches = self->patches,
    .n_patches = TILE_N_PATCHES,
  };
  return self;
}

void
tile_request_free (TileRequest *self)
{
  for (gsize i = 0; i < self->request.n_zones; i++)
    {
      g_free ((char *)self->zones[i].code);
      sherd_outline_free ((SherdOutline *)self->zones[i].outline_mm);
    }
  for (guint i = 0; i < TILE_N_PATCHES; i++)
    sherd_outline_free ((SherdOutline *)self->patches[i].outline_mm);
  g_free (self->zones);
  g_free (self->path);
  g_free (self);
}
