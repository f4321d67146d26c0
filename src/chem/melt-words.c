/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/melt.h"

#include <glib/gi18n-lib.h>

static const char *const reason_words[SHERD_N_MELT_REASONS] = {
  N_ ("Nothing is left after firing."),
  N_ ("There is no flux, or too little of what goes with it: no published low-melting system fits. It may still sinter "
      "with "
      "the clay."),
  N_ ("What melts can make only little liquid: it may bind, but hardly glaze."),
  N_ ("There is lead but no source of silica. It can only take silica from the clay underneath."),
  N_ ("Sulphide or sulphate must lose its sulphur in clear air first; sulphate that is left delays melting by about 50 "
      "to "
      "100 °C or asks for a longer peak."),
  N_ ("Clay brings alumina: first liquid can come earlier, the rest later and stiffer."),
  N_ ("There is more alumina than the fluxes can take up: when all is liquid cannot be said."),
  N_ ("With boron there are few published points: first liquid can come much earlier."),
  N_ ("Much of the paint is outside the published systems."),
  N_ ("No published liquidus fits: when all is liquid is not known."),
  N_ ("Between published points the liquidus is an estimate of ± 50 °C."),
  N_ ("The doubt of the materials makes the range wide. An analysis would narrow it."),
  N_ ("A frit is a glass already: it softens and flows well before crystals of the same oxides would melt."),
  N_ ("The time at the peak is not known; 10 minutes are assumed."),
  N_ ("The peak is shorter than an hour: a short fire does less than the diagram says."),
};

static const char *const sureness_words[SHERD_N_MELT_SURENESSES] = { N_ ("fairly sure"), N_ ("rough"),
                                                                     N_ ("no more than a guess"),
                                                                     N_ ("cannot be said") };

static const char *const verdict_words[SHERD_N_MELT_VERDICTS] = {
  N_ ("No firing is planned or logged."),
  N_ ("Whether it melts cannot be said."),
  N_ ("Too cold: no melt is expected; it stays dull and dusty."),
  N_ ("Melt may just begin; it is likelier to stay dull and unglazed."),
  N_ ("It melts in part at most: dull to satin, glossy where thick."),
  N_ ("It may melt through or may not: satin to glossy."),
  N_ ("Hot and long enough to melt through: glossy, and it may run where thick."),
};

/* Returns: (nullable) (transfer none): one reason in words; NULL when it is not a single one */
const char *
sherd_melt_reason_get_words (SherdMeltReasons reason)
{
  for (guint i = 0; i < SHERD_N_MELT_REASONS; i++)
    if (reason == (SherdMeltReasons)(1u << i))
      return _ (reason_words[i]);
  return NULL;
}

const char *
sherd_melt_sureness_get_words (SherdMeltSureness sureness)
{
  g_return_val_if_fail (sureness < SHERD_N_MELT_SURENESSES, "");
  return _ (sureness_words[sureness]);
}

const char *
sherd_melt_verdict_get_words (SherdMeltVerdict verdict)
{
  g_return_val_if_fail (verdict < SHERD_N_MELT_VERDICTS, "");
  return _ (verdict_words[verdict]);
}

static void
add_words (GString *text, const char *words)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", words);
}

/* Returns: (transfer full): how it looks where it has melted, in words */
char *
sherd_melt_look_dup_words (SherdLook look)
{
  GString *text = g_string_new (NULL);

  if (look & SHERD_LOOK_BLACK)
    add_words (text, _ ("black"));
  else if (look & SHERD_LOOK_TINTED)
    add_words (text, _ ("tinted"));
  else
    add_words (text, _ ("clear"));
  if (look & SHERD_LOOK_DULL)
    add_words (text, _ ("dull from grains that do not dissolve"));
  if (look & SHERD_LOOK_OPAQUE)
    add_words (text, _ ("opaque"));
  if (look & SHERD_LOOK_UNSURE)
    add_words (text, _ ("near the amount that dissolves"));
  return g_string_free (text, FALSE);
}

/* Returns: (transfer none): the line that belongs beside every outlook */
const char *
sherd_melt_get_advice_words (void)
{
  return _ ("Advice from equilibrium data: a lower bound, not a prediction. A test tile decides.");
}
