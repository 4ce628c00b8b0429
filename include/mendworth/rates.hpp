#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "mendworth/case.hpp"

/// Trade figures with their sources: what a case leaves out is taken from here.
namespace mendworth {
/// A number with its source.

struct SourcedQuantity {
  Quantity value;      ///< in the unit of the key it stands for
  std::string source;  ///< publication, "common practice, no source" or "from memory ..."
};

/// Names that stand for a default which is not a number: a skill, a termination, the operations to be added up.
struct SourcedNames {
  /// At least one, each a name of the table concerned.
  std::vector<std::string> names;  ///< at least one
  std::string source;              ///< as of a SourcedQuantity
};

/// What is thought about the life of a class of parts.
struct LifeClass {
  LifePrior life;      ///< in the unit that the class wears by
  std::string source;  ///< as of a SourcedQuantity
};

/// How a part is held in its place: hands-on minutes for one position.
struct Termination {
  Quantity remove_minutes;  ///< >= 0
  Quantity clean_minutes;   ///< >= 0
  Quantity fit_minutes;     ///< >= 0
  int joints = 0;           ///< usual number of joints
  std::string source;       ///< as of a SourcedQuantity
};

/// How used to such work somebody is.
struct Skill {
  double minutes_factor = 1.0;  ///< that minutes from the rates are multiplied by, > 0
  Quantity joint_mendable;      ///< chance per joint of damage that can be mended, 0..1
  Quantity joint_write_off;     ///< chance per joint that the device is lost, 0..1
  Quantity opening_mendable;    ///< chance per opening of damage that can be mended, 0..1
  Quantity opening_write_off;   ///< chance per opening that the device is lost, 0..1
  Quantity diagnosis_right;     ///< chance that the visit cures the device, 0..1
  std::string source;           ///< as of a SourcedQuantity
};

/// What is dangerous about a device, or not for everybody to open.
struct Hazard {
  std::string title;                  ///< in words
  bool licensed_only = false;         ///< not for one's own hands: the answer is a referral
  std::vector<std::string> cautions;  ///< sentences
  std::string source;                 ///< as of a SourcedQuantity
};

/// A currency that a case may use, by its ISO 4217 code.
struct CurrencyRate {
  int minor_digits = 2;  ///< digits after the point, ISO 4217: 0..4
  std::string source;    ///< as of a SourcedQuantity
};

/// All tables. Keys are the names that a case file uses ("tactile-switch").
struct RateBook {
  std::map<std::string, LifeClass> lives;  ///< by class of part: "tactile-switch"
  std::map<std::string, SourcedQuantity>
      operations;                                   ///< minutes by operation; "open", "close", "diagnose" ...
  std::map<std::string, Termination> terminations;  ///< by how a part is held: "through-hole-2-lead"
  std::map<std::string, Skill> skills;              ///< by name: "beginner"
  std::map<std::string, SourcedQuantity>
      device_kinds;                                 ///< mean life of a new one in years; "other" for the rest
  std::map<std::string, Hazard> hazards;            ///< by name: "mains"
  std::map<std::string, SourcedQuantity> defaults;  ///< by case key, for instance "horizon.discount_rate"
  /// By case key: "fault.cause", "labour.skill", "position.termination" (one name each), and
  /// "labour.case_minutes", "labour.visit_minutes" (operations whose minutes are added up).
  std::map<std::string, SourcedNames> default_names;
  std::map<std::string, CurrencyRate> currencies;  ///< by ISO 4217 code
};

/// The tables compiled into the program.
[[nodiscard]] const RateBook& built_in_rates();

/// Lays the tables of one TOML text over `book`: an entry replaces the entry of its name.
/// Throws InputError with every problem of the text.
void overlay_rates(RateBook& book, std::string_view toml_text, const std::string& source_name);

/// Lays every *.toml of a folder over `book`, in the order of their names.
/// Throws FileError if there is no such folder or a file cannot be read, InputError for their content.
void overlay_rates_directory(RateBook& book, const std::string& directory);

}  // namespace mendworth
