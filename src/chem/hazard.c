/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of workplace limits as read in the rules named beside them, or from memory where that is said; law changes,
 * so each is shown with the words to check the current local rule. */
#include "config.h"

#include "chem/hazard.h"

#include <glib/gi18n-lib.h>
#include <string.h>

typedef struct
{
  const char *id;
  const char *name;
  const char *caution;
  const char *limits; /* NULL where there is no single figure */
} HazardRow;

#define DUST_OF_METAL                                                                                                  \
  N_ ("Harmful as dust or if swallowed. Work it wet, do not eat at the bench, wash hands, and wear a fitted "          \
      "particulate respirator for dry work.")

/* In the order of the flags. Limits: 8 h average unless another time is said. */
static const HazardRow rows[SHERD_N_HAZARDS] = {
  { "lead", N_ ("lead"),
    N_ (
      "Poisonous, above all to children and unborn children, and it gathers in the body. Work it wet, wear a fitted "
      "particulate respirator, do not eat, drink or smoke near it, keep clothes and tools for it alone, keep children, "
      "pregnant people and pets away, label and seal it, and put none of it in drains, garden or common clay."),
    N_ ("Lead in workplace air: 50 µg/m³, action level 30 µg/m³ (OSHA, 29 CFR 1910.1025).") },
  { "sulphur-dioxide", N_ ("sulphur dioxide"),
    N_ (
      "Gives off sulphur dioxide when fired, which burns eyes and lungs. Fire it outdoors only, stay upwind, and keep "
      "others away."),
    N_ ("Sulphur dioxide: 5 ppm (OSHA); 2 ppm, 5 ppm for 15 minutes, 100 ppm immediately dangerous (NIOSH).") },
  { "manganese", N_ ("manganese"), DUST_OF_METAL,
    N_ ("Manganese: 5 mg/m³ never to be exceeded (OSHA); 1 mg/m³ (NIOSH); 0.02 mg/m³ respirable, 0.1 mg/m³ inhalable "
        "(ACGIH).") },
  { "copper", N_ ("copper"), DUST_OF_METAL, N_ ("Copper dust: 1 mg/m³ (OSHA, NIOSH).") },
  { "cobalt", N_ ("cobalt"),
    N_ ("Harmful as dust or if swallowed, and the skin can become allergic to it. Work it wet, wear gloves, do not eat "
        "at "
        "the bench, wash hands, and wear a fitted particulate respirator for dry work."),
    N_ ("Cobalt: 0.1 mg/m³ (OSHA); 0.05 mg/m³ (NIOSH).") },
  { "chromium", N_ ("chromium"),
    N_ ("Harmful as dust. Fired in air with soda, potash or ash it can become chromate, which causes cancer: keep it "
        "from "
        "alkalis, work it wet, and wear a fitted particulate respirator for dry work."),
    N_ ("Chromium(VI): 5 µg/m³ (OSHA); chromium(III): 0.5 mg/m³ (OSHA, from memory).") },
  { "barium", N_ ("barium"), DUST_OF_METAL, N_ ("Soluble barium: 0.5 mg/m³ (OSHA, from memory).") },
  { "nickel", N_ ("nickel"),
    N_ ("Its dust causes cancer, and the skin can become allergic to it. Work it wet, wear gloves, and wear a fitted "
        "particulate respirator for dry work."),
    NULL },
  { "arsenic", N_ ("arsenic"),
    N_ ("Poisonous, causes cancer, and leaves in the fire as poisonous fume. Do not grind or fire it without licensed "
        "practice."),
    NULL },
  { "antimony", N_ ("antimony"), DUST_OF_METAL, NULL },
  { "cadmium", N_ ("cadmium"),
    N_ ("Poisonous, causes cancer, and fumes in the fire. Do not grind or fire it without licensed practice."), NULL },
  { "mercury", N_ ("mercury"), N_ ("Leaves in the fire as poisonous vapour. Do not fire it. Do not grind it dry."),
    NULL },
  { "vanadium", N_ ("vanadium"), DUST_OF_METAL, NULL },
  { "uranium", N_ ("uranium"),
    N_ ("Radioactive and poisonous. Keeping and working it may need a licence; do not grind or fire it without one."),
    NULL },
  { "fluoride", N_ ("fluoride"),
    N_ (
      "Can give off fluorine compounds in the fire, which burn eyes and lungs. Fire it outdoors only and stay upwind."),
    NULL },
  { "silica-dust", N_ ("silica dust"),
    N_ (
      "The dust scars the lungs for ever. Clean wet; never sweep or sand dry; wear a fitted particulate respirator for "
      "dry work."),
    N_ ("Respirable crystalline silica: 50 µg/m³, action level 25 µg/m³ (OSHA, 29 CFR 1910.1053); 25 µg/m³ (ACGIH).") },
  { "caustic", N_ ("caustic"),
    N_ ("Burns skin and eyes when wet. Wear gloves and goggles, and rinse splashes with plenty of water."), NULL },
  { "borate", N_ ("borate"),
    N_ ("Irritates, and is listed in the European Union as harmful to reproduction (from memory). Do not swallow or "
        "breathe it; not for pregnant people."),
    NULL },
  { "fire", N_ ("burns"), N_ ("Burns as a powder. Keep it from flames and sparks until it is in the fire."), NULL },
  { "dust", N_ ("dust"), N_ ("Any dust harms the lungs. Work it wet and do not breathe it."), NULL },
};

/* NIOSH, 8 h average; at 25 °C and 1 atm a mole of gas fills 24.465 l. */
#define SULPHUR_DIOXIDE_LIMIT_PPM 2.0
#define MOLAR_VOLUME_L 24.465

static const HazardRow *
find_row (SherdHazards hazard)
{
  for (guint i = 0; i < SHERD_N_HAZARDS; i++)
    if (hazard == (SherdHazards)(1u << i))
      return &rows[i];
  return NULL;
}

/* Returns: (nullable) (transfer none): the word of files; NULL when @hazard is not a single one */
const char *
sherd_hazard_get_id (SherdHazards hazard)
{
  const HazardRow *row = find_row (hazard);

  return row != NULL ? row->id : NULL;
}

/**
 * sherd_hazard_from_id:
 * @id: a word such as “lead”
 *
 * Returns: its flag, or 0 when there is none of that name
 */
SherdHazards
sherd_hazard_from_id (const char *id)
{
  for (guint i = 0; i < SHERD_N_HAZARDS; i++)
    if (strcmp (rows[i].id, id) == 0)
      return (SherdHazards)(1u << i);
  return 0;
}

/* Returns: (nullable) (transfer none): the word of screens */
const char *
sherd_hazard_get_name (SherdHazards hazard)
{
  const HazardRow *row = find_row (hazard);

  return row != NULL ? _ (row->name) : NULL;
}

/* Returns: (nullable) (transfer none): what can happen and what to do, in plain words */
const char *
sherd_hazard_get_caution (SherdHazards hazard)
{
  const HazardRow *row = find_row (hazard);

  return row != NULL ? _ (row->caution) : NULL;
}

/**
 * sherd_hazard_get_limits:
 * @hazard: a single one
 *
 * Returns: (nullable) (transfer none): workplace limits with the body that sets them; show
 *   sherd_hazards_get_deference () beside them. NULL where the program knows none
 */
const char *
sherd_hazard_get_limits (SherdHazards hazard)
{
  const HazardRow *row = find_row (hazard);

  return row != NULL && row->limits != NULL ? _ (row->limits) : NULL;
}

/* Returns: the mass in one cubic metre of air, 25 °C, 1 atm */
double
sherd_sulphur_dioxide_mg_m3 (double ppm)
{
  const SherdAtoms dioxide = { .count = { [SHERD_SULPHUR] = 1, [SHERD_OXYGEN] = 2 } };

  return ppm * sherd_atoms_molar_mass (&dioxide).value / MOLAR_VOLUME_L;
}

/**
 * sherd_sulphur_dioxide_air_m3:
 * @sulphur_dioxide_g: given off, as in SherdMixFacts
 *
 * Returns: the fresh air in which it falls to 2 ppm, the NIOSH limit; tells why such a paint is fired outdoors
 */
double
sherd_sulphur_dioxide_air_m3 (double sulphur_dioxide_g)
{
  return 1000.0 * sulphur_dioxide_g / sherd_sulphur_dioxide_mg_m3 (SULPHUR_DIOXIDE_LIMIT_PPM);
}

/**
 * sherd_hazards_of_atoms:
 * @atoms: what something is made of
 *
 * Sulphur beside oxygen may be a sulphate; it leaves as sulphur dioxide (and trioxide) too. A formula of silicon and
 * oxygen alone is silica; a silicate's dust may hold quartz, which only the material's own statement can tell.
 *
 * Returns: the hazards that follow from the elements
 */
SherdHazards
sherd_hazards_of_atoms (const SherdAtoms *atoms)
{
  static const struct
  {
    guint element;
    SherdHazards hazard;
  } by_element[] = {
    { 82, SHERD_HAZARD_LEAD },     { 16, SHERD_HAZARD_SULPHUR_DIOXIDE }, { 25, SHERD_HAZARD_MANGANESE },
    { 29, SHERD_HAZARD_COPPER },   { 27, SHERD_HAZARD_COBALT },          { 24, SHERD_HAZARD_CHROMIUM },
    { 56, SHERD_HAZARD_BARIUM },   { 28, SHERD_HAZARD_NICKEL },          { 33, SHERD_HAZARD_ARSENIC },
    { 51, SHERD_HAZARD_ANTIMONY }, { 48, SHERD_HAZARD_CADMIUM },         { 80, SHERD_HAZARD_MERCURY },
    { 23, SHERD_HAZARD_VANADIUM }, { 92, SHERD_HAZARD_URANIUM },         { 9, SHERD_HAZARD_FLUORIDE },
    { 5, SHERD_HAZARD_BORATE },
  };
  SherdHazards hazards = 0;

  for (guint i = 0; i < G_N_ELEMENTS (by_element); i++)
    if (atoms->count[by_element[i].element] > 0.0)
      hazards |= by_element[i].hazard;
  if (atoms->count[SHERD_SILICON] > 0.0)
    {
      SherdAtoms others = *atoms;

      others.count[SHERD_SILICON] = others.count[SHERD_OXYGEN] = 0.0;
      if (sherd_atoms_molar_mass (&others).value == 0.0)
        hazards |= SHERD_HAZARD_SILICA_DUST;
    }
  return hazards;
}

/**
 * sherd_hazards_get_food_caution:
 * @hazards: of all that is in a paint
 *
 * Returns: (transfer none): “not for food”, always: no low-fired test piece is safe for food without a laboratory's
 * word
 */
const char *
sherd_hazards_get_food_caution (SherdHazards hazards)
{
  const SherdHazards poisons =
    SHERD_HAZARD_ARSENIC | SHERD_HAZARD_CADMIUM | SHERD_HAZARD_MERCURY | SHERD_HAZARD_URANIUM | SHERD_HAZARD_BARIUM |
    SHERD_HAZARD_ANTIMONY | SHERD_HAZARD_NICKEL | SHERD_HAZARD_COBALT | SHERD_HAZARD_CHROMIUM | SHERD_HAZARD_VANADIUM;

  if (hazards & SHERD_HAZARD_LEAD)
    return _ (
      "Contains lead. Display or study piece only. Not for food, drink, cooking, water storage or planting food. "
      "Mark the base.");
  if (hazards & poisons)
    return _ ("Contains poisonous metals. Display or study piece only. Not for food.");
  return _ ("Porous and untested. Treat as not for food.");
}

/* Returns: (transfer none): the line that belongs under every list of cautions */
const char *
sherd_hazards_get_deference (void)
{
  return _ (
    "This program gives estimates for planning tests. It does not certify safety. Check the current local rules; "
    "local codes, material safety sheets, an accredited laboratory and licensed practice come first.");
}
