#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "mendworth/case.hpp"

/// Trade figures with their sources: what a case leaves out is taken from here.
namespace mendworth {

struct SourcedQuantity {
  Quantity value;
  std::string source;  ///< publication, "common practice, no source" or "from memory ..."
};

/// Names that stand for a default which is not a number: a skill, a termination, the operations to be added up.
struct SourcedNames {
  std::vector<std::string> names;  ///< at least one
  std::string source;
};

struct LifeClass {
  LifePrior life;
  std::string source;
};

struct Termination {
  Quantity remove_minutes;
  Quantity clean_minutes;
  Quantity fit_minutes;
  int joints = 0;  ///< usual number of joints
  std::string source;
};

struct Skill {
  double minutes_factor = 1.0;
  Quantity joint_mendable;
  Quantity joint_write_off;
  Quantity opening_mendable;
  Quantity opening_write_off;
  Quantity diagnosis_right;
  std::string source;
};

struct Hazard {
  std::string title;                  ///< in words
  bool licensed_only = false;         ///< not for one's own hands: the answer is a referral
  std::vector<std::string> cautions;  ///< sentences
  std::string source;
};

struct CurrencyRate {
  int minor_digits = 2;
  std::string source;
};

/// All tables. Keys are the names that a case file uses ("tactile-switch").
struct RateBook {
  std::map<std::string, LifeClass> lives;
  std::map<std::string, SourcedQuantity>
      operations;  ///< minutes by operation; "open", "close", "diagnose" ...
  std::map<std::string, Termination> terminations;
  std::map<std::string, Skill> skills;
  std::map<std::string, SourcedQuantity>
      device_kinds;  ///< mean life of a new one in years; "other" for the rest
  std::map<std::string, Hazard> hazards;
  std::map<std::string, SourcedQuantity> defaults;  ///< by case key, for instance "horizon.discount_rate"
  /// By case key: "fault.cause", "labour.skill", "position.termination" (one name each), and
  /// "labour.case_minutes", "labour.visit_minutes" (operations whose minutes are added up).
  std::map<std::string, SourcedNames> default_names;
  std::map<std::string, CurrencyRate> currencies;
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
