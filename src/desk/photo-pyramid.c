/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photo-pyramid.h"

#include <math.h>
#include <string.h>

#include "colour/srgb.h"

#define CHANNELS 3u
/* Our choice: the longer side of what is shown until the levels are there; about a screen's width. */
#define PREVIEW_SIDE_PX 1280u
/* Our choice: twenty reports of progress a second look smooth and cost nothing. */
#define REPORT_INTERVAL_US (G_USEC_PER_SEC / 20)
/* Surround of ISO 3664 in the magnifier, L* 50. */
#define GREY_CODE 119

/* A photograph halved again and again, in tiles: level 0 is full size, each next one half of it. The levels are made in
 * a thread; whatever has arrived can be drawn. */
struct _SherdPhotoPyramid
{
  GObject parent_instance;

  guint width_px;
  guint height_px;
  GPtrArray *levels; /* of SherdPicture, from level 0 on, as far as they have arrived */
  GPtrArray *tiles;  /* of GHashTable, one a level: row and column → GdkTexture */
  GdkTexture *preview;
  double progress_frac;
  GError *error;
  gboolean started;
  GCancellable *cancellable;
  struct _Building *building;
  double linear[256]; /* sRGB code → linear light */
};

/* What thread and main loop share. Everything but the pyramid may be freed in either. */
typedef struct _Building
{
  char *path;                 /* (nullable): the file to read, else the picture is there already */
  SherdPicture *picture;      /* level 0 given or last level made; the thread's own */
  SherdPhotoPyramid *pyramid; /* main loop only; NULL once it is gone */

  GMutex lock; /* of all below */
  guint width_px;
  guint height_px;
  SherdPicture *preview;
  GQueue arrived; /* of SherdPicture, levels not handed over yet */
  double done_frac;
  gint64 reported_us;
  gboolean report_waits;
} Building;

enum
{
  CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (SherdPhotoPyramid, sherd_photo_pyramid, G_TYPE_OBJECT)

/* The same picture again; its pixels are shared. */
static SherdPicture *
share_picture (const SherdPicture *picture)
{
  SherdPicture *shared = g_new0 (SherdPicture, 1);

  *shared = *picture;
  g_bytes_ref (shared->pixels);
  return shared;
}

static void
building_clear (gpointer data)
{
  Building *building = data;

  g_free (building->path);
  g_clear_pointer (&building->picture, sherd_picture_free);
  g_clear_pointer (&building->preview, sherd_picture_free);
  g_queue_clear_full (&building->arrived, (GDestroyNotify)sherd_picture_free);
  g_mutex_clear (&building->lock);
}

static Building *
building_new (SherdPhotoPyramid *pyramid)
{
  Building *building = g_atomic_rc_box_new0 (Building);

  building->pyramid = pyramid;
  g_mutex_init (&building->lock);
  g_queue_init (&building->arrived);
  return building;
}

static void
building_unref (gpointer building)
{
  g_atomic_rc_box_release_full (building, building_clear);
}

static GdkTexture *
make_texture (const SherdPicture *picture, guint x_px, guint y_px, guint width_px, guint height_px)
{
  const gsize first = y_px * picture->stride + CHANNELS * (gsize)x_px;
  const gsize length = (height_px - 1) * picture->stride + CHANNELS * (gsize)width_px;
  g_autoptr (GBytes) bytes = g_bytes_new_from_bytes (picture->pixels, first, length);

  return gdk_memory_texture_new ((int)width_px, (int)height_px, GDK_MEMORY_R8G8B8, bytes, picture->stride);
}

static void
add_level (SherdPhotoPyramid *self, SherdPicture *picture)
{
  g_ptr_array_add (self->levels, picture);
  g_ptr_array_add (self->tiles, g_hash_table_new_full (g_direct_hash, g_direct_equal, NULL, g_object_unref));
}

/* Takes over what the thread has made. Main loop. */
static gboolean
take_arrived (gpointer data)
{
  Building *building = data;
  SherdPhotoPyramid *self = building->pyramid;
  SherdPicture *picture;

  if (!self)
    return G_SOURCE_REMOVE;

  g_mutex_lock (&building->lock);
  building->report_waits = FALSE;
  self->width_px = building->width_px;
  self->height_px = building->height_px;
  self->progress_frac = building->done_frac;
  if (building->preview && !self->preview)
    self->preview = make_texture (building->preview, 0, 0, building->preview->width_px, building->preview->height_px);
  while ((picture = g_queue_pop_head (&building->arrived)))
    add_level (self, picture);
  g_mutex_unlock (&building->lock);

  g_signal_emit (self, signals[CHANGED], 0);
  return G_SOURCE_REMOVE;
}

/* Asks the main loop to look. Called with the lock held. */
static void
report (Building *building)
{
  if (building->report_waits)
    return;
  building->report_waits = TRUE;
  building->reported_us = g_get_monotonic_time ();
  g_idle_add_full (G_PRIORITY_DEFAULT, take_arrived, g_atomic_rc_box_acquire (building), building_unref);
}

static void
progress_cb (double done_frac, gpointer user_data)
{
  Building *building = user_data;

  g_mutex_lock (&building->lock);
  building->done_frac = done_frac;
  if (g_get_monotonic_time () - building->reported_us > REPORT_INTERVAL_US)
    report (building);
  g_mutex_unlock (&building->lock);
}

static void
hand_over (Building *building, const SherdPicture *picture)
{
  g_mutex_lock (&building->lock);
  g_queue_push_tail (&building->arrived, share_picture (picture));
  report (building);
  g_mutex_unlock (&building->lock);
}

static gboolean
read_size (Building *building, GError **error)
{
  g_autoptr (SherdPhoto) photo = sherd_photo_open (building->path, error);

  if (!photo)
    return FALSE;
  g_mutex_lock (&building->lock);
  building->width_px = sherd_photo_get_upright_width_px (photo);
  building->height_px = sherd_photo_get_upright_height_px (photo);
  g_mutex_unlock (&building->lock);
  return TRUE;
}

static gboolean
read_preview (Building *building, GCancellable *cancellable, GError **error)
{
  g_autoptr (SherdPicture) preview =
    sherd_picture_load (building->path, PREVIEW_SIDE_PX, NULL, NULL, cancellable, error);

  if (!preview)
    return FALSE;
  g_mutex_lock (&building->lock);
  building->preview = g_steal_pointer (&preview);
  report (building);
  g_mutex_unlock (&building->lock);
  return TRUE;
}

static gboolean
read_file (Building *building, GCancellable *cancellable, GError **error)
{
  if (!read_size (building, error) || !read_preview (building, cancellable, error))
    return FALSE;
  building->picture = sherd_picture_load (building->path, 0, progress_cb, building, cancellable, error);
  if (!building->picture)
    return FALSE;
  hand_over (building, building->picture);
  return TRUE;
}

/* The thread: reads the file if need be, then halves until one tile holds all. */
static void
build_in_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  Building *building = task_data;
  GError *error = NULL;

  if (building->path && !read_file (building, cancellable, &error))
    {
      g_task_return_error (task, error);
      return;
    }
  while (MAX (building->picture->width_px, building->picture->height_px) > SHERD_PHOTO_TILE_PX)
    {
      SherdPicture *half;

      if (g_task_return_error_if_cancelled (task))
        return;
      half = sherd_picture_halve (building->picture);
      sherd_picture_free (building->picture);
      building->picture = half;
      hand_over (building, half);
    }
  g_task_return_boolean (task, TRUE);
}

static void
built_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Building *building = user_data;
  g_autoptr (GError) error = NULL;
  const gboolean done = g_task_propagate_boolean (G_TASK (result), &error);

  if (building->pyramid)
    {
      g_mutex_lock (&building->lock);
      building->done_frac = done ? 1.0 : building->done_frac;
      g_mutex_unlock (&building->lock);
      building->pyramid->error = g_steal_pointer (&error);
      take_arrived (building);
    }
  building_unref (building);
}

static void
sherd_photo_pyramid_dispose (GObject *object)
{
  SherdPhotoPyramid *self = SHERD_PHOTO_PYRAMID (object);

  g_cancellable_cancel (self->cancellable);
  if (self->building)
    self->building->pyramid = NULL;
  g_clear_pointer (&self->building, building_unref);
  G_OBJECT_CLASS (sherd_photo_pyramid_parent_class)->dispose (object);
}

static void
sherd_photo_pyramid_finalize (GObject *object)
{
  SherdPhotoPyramid *self = SHERD_PHOTO_PYRAMID (object);

  g_clear_object (&self->preview);
  g_clear_object (&self->cancellable);
  g_clear_error (&self->error);
  g_ptr_array_unref (self->tiles);
  g_ptr_array_unref (self->levels);
  G_OBJECT_CLASS (sherd_photo_pyramid_parent_class)->finalize (object);
}

static void
sherd_photo_pyramid_class_init (SherdPhotoPyramidClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = sherd_photo_pyramid_dispose;
  object_class->finalize = sherd_photo_pyramid_finalize;

  /**
   * SherdPhotoPyramid::changed:
   *
   * The size is known, something more can be drawn, work has gone on, or it has ended. Main loop.
   */
  signals[CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sherd_photo_pyramid_init (SherdPhotoPyramid *self)
{
  self->levels = g_ptr_array_new_with_free_func ((GDestroyNotify)sherd_picture_free);
  self->tiles = g_ptr_array_new_with_free_func ((GDestroyNotify)g_hash_table_unref);
  self->cancellable = g_cancellable_new ();
  self->building = building_new (self);
  for (guint code = 0; code < G_N_ELEMENTS (self->linear); code++)
    self->linear[code] = sherd_srgb_decode (code / 255.0);
}

/* Every n-th pixel of every n-th row: quick, to have something to show while the levels are made. */
static GdkTexture *
pick_preview (const SherdPicture *picture)
{
  const guint step = MAX (MAX (picture->width_px, picture->height_px) / PREVIEW_SIDE_PX, 1);
  const guint width_px = picture->width_px / step, height_px = picture->height_px / step;
  const guint8 *pixels = g_bytes_get_data (picture->pixels, NULL);
  guint8 *picked = g_malloc (CHANNELS * (gsize)width_px * height_px);
  guint8 *to = picked;
  g_autoptr (GBytes) bytes = NULL;

  for (guint y = 0; y < height_px; y++)
    for (guint x = 0; x < width_px; x++, to += CHANNELS)
      memcpy (to, pixels + (gsize)y * step * picture->stride + (gsize)x * step * CHANNELS, CHANNELS);
  bytes = g_bytes_new_take (picked, CHANNELS * (gsize)width_px * height_px);
  return gdk_memory_texture_new ((int)width_px, (int)height_px, GDK_MEMORY_R8G8B8, bytes, CHANNELS * (gsize)width_px);
}

/**
 * sherd_photo_pyramid_start:
 * @self: the pyramid
 *
 * Starts to read and halve the photograph in a thread, unless that has begun: its size and a small version come first.
 * What goes wrong is told by sherd_photo_pyramid_get_error() when #SherdPhotoPyramid::changed is emitted.
 */
void
sherd_photo_pyramid_start (SherdPhotoPyramid *self)
{
  g_autoptr (GTask) task = NULL;

  g_return_if_fail (SHERD_IS_PHOTO_PYRAMID (self));
  if (self->started)
    return;
  self->started = TRUE;
  /* No source object: a thread may drop the task last, and the pyramid must go in the main loop. */
  task = g_task_new (NULL, self->cancellable, built_cb, g_atomic_rc_box_acquire (self->building));
  g_task_set_name (task, "photo pyramid");
  g_task_set_task_data (task, g_atomic_rc_box_acquire (self->building), building_unref);
  g_task_run_in_thread (task, build_in_thread);
}

/**
 * sherd_photo_pyramid_new_for_picture:
 * @picture: a picture; its pixels are shared, not copied
 *
 * Starts to halve @picture in a thread. Full size and a coarse preview can be drawn at once.
 *
 * Returns: (transfer full): the pyramid
 */
SherdPhotoPyramid *
sherd_photo_pyramid_new_for_picture (const SherdPicture *picture)
{
  SherdPhotoPyramid *self = g_object_new (SHERD_TYPE_PHOTO_PYRAMID, NULL);

  self->width_px = self->building->width_px = picture->width_px;
  self->height_px = self->building->height_px = picture->height_px;
  self->preview = pick_preview (picture);
  self->building->picture = share_picture (picture);
  add_level (self, share_picture (picture));
  sherd_photo_pyramid_start (self);
  return self;
}

/**
 * sherd_photo_pyramid_new_for_file:
 * @path: path of a photograph
 *
 * A photograph that is read when somebody looks: sherd_photo_pyramid_start().
 *
 * Returns: (transfer full): the pyramid
 */
SherdPhotoPyramid *
sherd_photo_pyramid_new_for_file (const char *path)
{
  SherdPhotoPyramid *self = g_object_new (SHERD_TYPE_PHOTO_PYRAMID, NULL);

  self->building->path = g_strdup (path);
  return self;
}

/**
 * sherd_photo_pyramid_cancel:
 * @self: the pyramid
 *
 * Stops the work. What has arrived stays; the error becomes G_IO_ERROR_CANCELLED.
 */
void
sherd_photo_pyramid_cancel (SherdPhotoPyramid *self)
{
  g_return_if_fail (SHERD_IS_PHOTO_PYRAMID (self));
  g_cancellable_cancel (self->cancellable);
}

/**
 * sherd_photo_pyramid_get_progress:
 * @self: the pyramid
 *
 * Returns: the share of the work that is done, 0…1
 */
double
sherd_photo_pyramid_get_progress (SherdPhotoPyramid *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_PYRAMID (self), 0.0);
  return sherd_photo_pyramid_is_ready (self) ? 1.0 : self->progress_frac;
}

/**
 * sherd_photo_pyramid_is_ready:
 * @self: the pyramid
 *
 * Returns: whether all levels are there
 */
gboolean
sherd_photo_pyramid_is_ready (SherdPhotoPyramid *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_PYRAMID (self), FALSE);
  return self->levels->len > 0 && self->levels->len == sherd_photo_pyramid_get_n_levels (self);
}

/**
 * sherd_photo_pyramid_get_error:
 * @self: the pyramid
 *
 * Returns: (transfer none) (nullable): why the work ended early: a SherdPhotoError or G_IO_ERROR_CANCELLED
 */
const GError *
sherd_photo_pyramid_get_error (SherdPhotoPyramid *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_PYRAMID (self), NULL);
  return self->error;
}

/**
 * sherd_photo_pyramid_get_width_px:
 * @self: the pyramid
 *
 * Returns: width of the upright photograph; 0 until it is known
 */
guint
sherd_photo_pyramid_get_width_px (SherdPhotoPyramid *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_PYRAMID (self), 0);
  return self->width_px;
}

/**
 * sherd_photo_pyramid_get_height_px:
 * @self: the pyramid
 *
 * Returns: height of the upright photograph; 0 until it is known
 */
guint
sherd_photo_pyramid_get_height_px (SherdPhotoPyramid *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_PYRAMID (self), 0);
  return self->height_px;
}

/**
 * sherd_photo_pyramid_get_n_levels:
 * @self: the pyramid
 *
 * Returns: how many levels there will be when all is done, full size included; 0 until the size is known
 */
guint
sherd_photo_pyramid_get_n_levels (SherdPhotoPyramid *self)
{
  guint n_levels = 1;

  g_return_val_if_fail (SHERD_IS_PHOTO_PYRAMID (self), 0);
  if (self->width_px == 0)
    return 0;
  for (guint side = MAX (self->width_px, self->height_px); side > SHERD_PHOTO_TILE_PX; side = (side + 1) / 2)
    n_levels++;
  return n_levels;
}

/**
 * sherd_photo_pyramid_has_level:
 * @self: the pyramid
 * @level: how often halved
 *
 * Returns: whether the level has arrived
 */
gboolean
sherd_photo_pyramid_has_level (SherdPhotoPyramid *self, guint level)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_PYRAMID (self), FALSE);
  return level < self->levels->len;
}

/**
 * sherd_photo_pyramid_get_level:
 * @self: the pyramid
 * @level: how often halved; it must have arrived
 *
 * Returns: (transfer none): the picture of the level; each side is the one before it halved and rounded up
 */
const SherdPicture *
sherd_photo_pyramid_get_level (SherdPhotoPyramid *self, guint level)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_PYRAMID (self), NULL);
  g_return_val_if_fail (level < self->levels->len, NULL);
  return g_ptr_array_index (self->levels, level);
}

/**
 * sherd_photo_pyramid_get_tile:
 * @self: the pyramid
 * @level: how often halved; it must have arrived
 * @column: counted in %SHERD_PHOTO_TILE_PX from the left
 * @row: from the top
 *
 * Returns: (transfer none): the tile; it shares the level's memory
 */
GdkTexture *
sherd_photo_pyramid_get_tile (SherdPhotoPyramid *self, guint level, guint column, guint row)
{
  const guint x_px = column * SHERD_PHOTO_TILE_PX, y_px = row * SHERD_PHOTO_TILE_PX;
  const gpointer key = GUINT_TO_POINTER (row << 16 | column);
  const SherdPicture *picture = sherd_photo_pyramid_get_level (self, level);
  GHashTable *tiles = g_ptr_array_index (self->tiles, level);
  GdkTexture *tile = g_hash_table_lookup (tiles, key);

  g_return_val_if_fail (x_px < picture->width_px && y_px < picture->height_px, NULL);
  if (!tile)
    {
      tile = make_texture (picture, x_px, y_px, MIN (SHERD_PHOTO_TILE_PX, picture->width_px - x_px),
                           MIN (SHERD_PHOTO_TILE_PX, picture->height_px - y_px));
      g_hash_table_insert (tiles, key, tile);
    }
  return tile;
}

/**
 * sherd_photo_pyramid_get_preview:
 * @self: the pyramid
 *
 * Returns: (transfer none) (nullable): the whole photograph, coarse, for where a level is still missing
 */
GdkTexture *
sherd_photo_pyramid_get_preview (SherdPhotoPyramid *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_PYRAMID (self), NULL);
  return self->preview;
}

static const SherdPicture *
full_size (SherdPhotoPyramid *self)
{
  return self->levels->len > 0 ? g_ptr_array_index (self->levels, 0) : NULL;
}

static const guint8 *
row_of (const SherdPicture *picture, int y_px)
{
  return (const guint8 *)g_bytes_get_data (picture->pixels, NULL) + (gsize)y_px * picture->stride;
}

/**
 * sherd_photo_pyramid_mean:
 * @self: the pyramid
 * @x_photo_px: centre of a disc
 * @y_photo_px: its y
 * @radius_px: the disc's radius
 * @mean_linear: (out): mean linear light, sRGB primaries
 *
 * The mean, in linear light, of the pixels whose middles lie in a disc, or of the one pixel there if none does. Taken
 * from the 8-bit picture for the screen: colours outside sRGB are clipped.
 *
 * Returns: FALSE outside the photograph or before it has been read
 */
gboolean
sherd_photo_pyramid_mean (SherdPhotoPyramid *self,
                          double x_photo_px,
                          double y_photo_px,
                          double radius_px,
                          SherdRgb *mean_linear)
{
  const SherdPicture *picture = full_size (self);
  const double square_px2 = MAX (radius_px * radius_px, 0.5);
  SherdRgb sum = { 0 };
  guint n = 0;

  if (!picture || x_photo_px < 0 || y_photo_px < 0 || x_photo_px >= picture->width_px ||
      y_photo_px >= picture->height_px)
    return FALSE;
  for (int y = (int)MAX (y_photo_px - radius_px - 0.5, 0); y < MIN (y_photo_px + radius_px + 0.5, picture->height_px);
       y++)
    for (int x = (int)MAX (x_photo_px - radius_px - 0.5, 0); x < MIN (x_photo_px + radius_px + 0.5, picture->width_px);
         x++)
      {
        const double dx = x + 0.5 - x_photo_px, dy = y + 0.5 - y_photo_px;
        const guint8 *codes = row_of (picture, y) + CHANNELS * (gsize)x;

        if (dx * dx + dy * dy > square_px2)
          continue;
        sum.r += self->linear[codes[0]];
        sum.g += self->linear[codes[1]];
        sum.b += self->linear[codes[2]];
        n++;
      }
  *mean_linear = (SherdRgb){ sum.r / n, sum.g / n, sum.b / n };
  return TRUE;
}

static void
magnify_row (const SherdPicture *picture, int x_px, int y_px, guint width_px, guint factor, guint8 *to)
{
  for (guint i = 0; i < width_px; i++)
    {
      const int x = x_px + (int)i;
      const gboolean inside = x >= 0 && y_px >= 0 && x < (int)picture->width_px && y_px < (int)picture->height_px;
      const guint8 *codes = inside ? row_of (picture, y_px) + CHANNELS * (gsize)x : NULL;

      for (guint k = 0; k < factor; k++, to += CHANNELS)
        if (codes)
          memcpy (to, codes, CHANNELS);
        else
          memset (to, GREY_CODE, CHANNELS);
    }
}

/**
 * sherd_photo_pyramid_magnify:
 * @self: the pyramid
 * @x_px: first column, may lie outside
 * @y_px: first row
 * @width_px: columns
 * @height_px: rows
 * @factor: magnification
 *
 * A piece of the photograph with every pixel drawn as a sharp-edged square, mid-grey outside the photograph.
 *
 * Returns: (transfer full) (nullable): the piece, or NULL before the photograph has been read
 */
GdkTexture *
sherd_photo_pyramid_magnify (SherdPhotoPyramid *self, int x_px, int y_px, guint width_px, guint height_px, guint factor)
{
  const SherdPicture *picture = full_size (self);
  const gsize stride = (gsize)CHANNELS * width_px * factor;
  g_autoptr (GBytes) bytes = NULL;
  guint8 *magnified;

  if (!picture)
    return NULL;
  magnified = g_malloc (stride * height_px * factor);
  for (guint j = 0; j < height_px; j++)
    {
      guint8 *first = magnified + stride * factor * j;

      magnify_row (picture, x_px, y_px + (int)j, width_px, factor, first);
      for (guint k = 1; k < factor; k++)
        memcpy (first + stride * k, first, stride);
    }
  bytes = g_bytes_new_take (magnified, stride * height_px * factor);
  return gdk_memory_texture_new ((int)(width_px * factor), (int)(height_px * factor), GDK_MEMORY_R8G8B8, bytes, stride);
}
