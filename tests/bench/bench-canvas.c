/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How smoothly the photograph canvas moves: the time between frames and the work in each, as a ratio to a widget of the
 * same size that draws one colour, by turns. The photograph is made in memory: noise, so that nothing is saved
 * by flat colour. */
#include "config.h"

#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <time.h>

#include "desk/photo-canvas.h"
#include "window-support.h"

#define WIDTH_PX 1200
#define HEIGHT_PX 800
#define N_FRAMES 120u
#define N_WARM_UP 10u

/* One colour, another in each frame: else GTK finds nothing to draw, and nothing is what it would be compared with. */
#define BENCH_TYPE_BLANK (bench_blank_get_type ())
G_DECLARE_FINAL_TYPE (BenchBlank, bench_blank, BENCH, BLANK, GtkWidget)

struct _BenchBlank
{
  GtkWidget parent_instance;

  gboolean odd;
};

G_DEFINE_FINAL_TYPE (BenchBlank, bench_blank, GTK_TYPE_WIDGET)

static void
bench_blank_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BenchBlank *self = BENCH_BLANK (widget);
  const float grey = self->odd ? 0.5f : 0.45f;
  const graphene_rect_t all =
    GRAPHENE_RECT_INIT (0, 0, (float)gtk_widget_get_width (widget), (float)gtk_widget_get_height (widget));

  gtk_snapshot_append_color (snapshot, &(GdkRGBA){ grey, grey, grey, 1 }, &all);
  self->odd = !self->odd;
}

static void
bench_blank_class_init (BenchBlankClass *klass)
{
  GTK_WIDGET_CLASS (klass)->snapshot = bench_blank_snapshot;
}

static void
bench_blank_init (BenchBlank *self)
{
}

typedef void (*MoveFunc) (SherdPhotoCanvas *canvas, guint frame);

typedef struct
{
  GtkWidget *widget;
  MoveFunc move; /* (nullable): only draw again */
  guint n_frames;
  double began_ms;
  gint64 last_us;
  double work_ms[N_FRAMES]; /* time of this thread, so that other programs count less */
  double interval_ms[N_FRAMES];
} Run;

typedef struct
{
  double median;
  double p95;
  double largest;
} Summary;

static int
compare (const void *a, const void *b)
{
  const double x = *(const double *)a, y = *(const double *)b;

  return (x > y) - (x < y);
}

static Summary
summarise (double *ms)
{
  double *kept = ms + N_WARM_UP;
  const guint n = N_FRAMES - N_WARM_UP;

  qsort (kept, n, sizeof *kept, compare);
  return (Summary){ kept[n / 2], kept[n * 95 / 100], kept[n - 1] };
}

static double
thread_ms (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return 1e3 * (double)now.tv_sec + 1e-6 * (double)now.tv_nsec;
}

static void
before_paint_cb (GdkFrameClock *clock, Run *run)
{
  run->began_ms = thread_ms ();
}

static void
after_paint_cb (GdkFrameClock *clock, Run *run)
{
  const gint64 now_us = g_get_monotonic_time ();

  if (run->n_frames >= N_FRAMES)
    return;
  run->work_ms[run->n_frames] = thread_ms () - run->began_ms;
  run->interval_ms[run->n_frames] = (double)(now_us - run->last_us) / 1000.0;
  run->last_us = now_us;
  run->n_frames++;
}

static gboolean
tick_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  Run *run = data;

  if (run->n_frames >= N_FRAMES)
    return G_SOURCE_REMOVE;
  if (run->move)
    run->move (SHERD_PHOTO_CANVAS (widget), run->n_frames);
  gtk_widget_queue_draw (widget);
  return G_SOURCE_CONTINUE;
}

static void
measure (GtkWidget *widget, MoveFunc move, Summary *interval, Summary *work)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (widget);
  Run run = { .widget = widget, .move = move, .last_us = g_get_monotonic_time () };
  const gulong before = g_signal_connect (clock, "before-paint", G_CALLBACK (before_paint_cb), &run);
  const gulong after = g_signal_connect (clock, "after-paint", G_CALLBACK (after_paint_cb), &run);

  gtk_widget_add_tick_callback (widget, tick_cb, &run, NULL);
  while (run.n_frames < N_FRAMES)
    g_main_context_iteration (NULL, TRUE);
  g_signal_handler_disconnect (clock, before);
  g_signal_handler_disconnect (clock, after);
  *interval = summarise (run.interval_ms);
  *work = summarise (run.work_ms);
}

static void
pan_all (SherdPhotoCanvas *canvas, guint frame)
{
  const SherdPhotoPyramid *pyramid = sherd_photo_canvas_get_pyramid (canvas);
  const double width_px = sherd_photo_pyramid_get_width_px ((SherdPhotoPyramid *)pyramid);

  sherd_photo_canvas_set_view (canvas, 0.95 * WIDTH_PX / width_px,
                               (SherdPoint){ width_px / 2 + 5.0 * frame, width_px / 3 });
}

static void
pan_half (SherdPhotoCanvas *canvas, guint frame)
{
  sherd_photo_canvas_set_view (canvas, 0.51, (SherdPoint){ 1500.0 + 17.0 * frame, 1500.0 + 5.0 * frame });
}

static void
pan_one (SherdPhotoCanvas *canvas, guint frame)
{
  sherd_photo_canvas_set_view (canvas, 1.0, (SherdPoint){ 1000.0 + 13.0 * frame, 1000.0 + 7.0 * frame });
}

static void
pan_pixels (SherdPhotoCanvas *canvas, guint frame)
{
  sherd_photo_canvas_set_view (canvas, 6.0, (SherdPoint){ 1000.0 + 3.0 * frame, 1000.0 + 2.0 * frame });
}

static void
zoom_through (SherdPhotoCanvas *canvas, guint frame)
{
  sherd_photo_canvas_set_view (canvas, 0.16 * exp2 (frame / 16.0), (SherdPoint){ 2000.0, 1500.0 });
}

/* Just before each case, so that other work on the machine falls on both alike. */
static void
measure_blank (Summary *interval, Summary *work)
{
  GtkWidget *window = sherd_test_window (g_object_new (BENCH_TYPE_BLANK, NULL), WIDTH_PX, HEIGHT_PX);

  measure (gtk_window_get_child (GTK_WINDOW (window)), NULL, interval, work);
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
report (const char *name, Summary interval, Summary work, Summary blank_interval, Summary blank_work)
{
  g_print ("%-20s p95 %5.1f ms = %4.2f × blank (≤ 1.5)  longest %5.1f ms (≤ 100)  work %4.1f ms, blank %4.1f ms\n",
           name, interval.p95, interval.p95 / blank_interval.p95, interval.largest, work.median, blank_work.median);
}

static void
paint_noise (guint x_px, guint y_px, guint8 rgb[3])
{
  const guint32 hash = (x_px * 2654435761u) ^ (y_px * 2246822519u);

  rgb[0] = (guint8)(hash >> 24);
  rgb[1] = (guint8)(hash >> 16);
  rgb[2] = (guint8)(hash >> 8);
}

static gboolean
is_ready (gpointer pyramid)
{
  return sherd_photo_pyramid_is_ready (pyramid);
}

static void
add_outlines (SherdPhotoCanvas *canvas, guint n_side, double width_px, double height_px)
{
  for (guint i = 0; i < n_side * n_side; i++)
    {
      const double x = width_px * (i % n_side) / n_side, y = height_px * (i / n_side) / n_side;
      g_autoptr (SherdOutline) outline =
        sherd_outline_new_rectangle (x, y, 0.8 * width_px / n_side, 0.8 * height_px / n_side);
      g_autofree char *code = g_strdup_printf ("Z%u", i + 1);

      sherd_photo_canvas_add_outline (canvas, outline, code);
    }
}

static void
run_all (guint megapixels)
{
  static const struct
  {
    const char *name;
    MoveFunc move;
  } cases[] = {
    { "pan, all in sight", pan_all }, { "pan at 0.51", pan_half },      { "pan at 1:1", pan_one },
    { "pan at 6:1", pan_pixels },     { "zoom through", zoom_through },
  };
  const guint width_px = 1000 * (guint)sqrt (1.5 * megapixels), height_px = width_px * 2 / 3;
  g_autoptr (SherdPicture) picture = sherd_test_picture (width_px, height_px, paint_noise);
  GtkWidget *canvas = sherd_photo_canvas_new (), *window;
  const gint64 began_us = g_get_monotonic_time ();
  Summary interval, work, blank_interval, blank_work;

  sherd_photo_canvas_set_picture (SHERD_PHOTO_CANVAS (canvas), picture);
  window = sherd_test_window (canvas, WIDTH_PX, HEIGHT_PX);
  g_print ("%u x %u: first drawn after %.0f ms", width_px, height_px,
           (double)(g_get_monotonic_time () - began_us) / 1000.0);
  sherd_test_wait (is_ready, sherd_photo_canvas_get_pyramid (SHERD_PHOTO_CANVAS (canvas)));
  g_print (", all levels after %.0f ms\n", (double)(g_get_monotonic_time () - began_us) / 1000.0);
  for (guint n_side = 0; n_side <= 30; n_side = n_side == 0 ? 5 : n_side * 6)
    {
      sherd_photo_canvas_clear_outlines (SHERD_PHOTO_CANVAS (canvas));
      add_outlines (SHERD_PHOTO_CANVAS (canvas), n_side, width_px, height_px);
      g_print ("%u outlines\n", n_side * n_side);
      for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
        {
          measure_blank (&blank_interval, &blank_work);
          measure (canvas, cases[i].move, &interval, &work);
          report (cases[i].name, interval, work, blank_interval, blank_work);
        }
    }
  gtk_window_destroy (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  double load[3] = { 0 };

  setlocale (LC_ALL, "");
  if (!sherd_test_init (&argc, &argv))
    return EXIT_SUCCESS;
  getloadavg (load, 3);
  g_print ("# %u processors, load %.1f\n", g_get_num_processors (), load[0]);
  run_all (24);
  run_all (100);
  return EXIT_SUCCESS;
}
