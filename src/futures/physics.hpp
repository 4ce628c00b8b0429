#pragma once

#include <array>
#include <vector>

#include "model/device_model.hpp"

namespace mendworth {

/// What was worked out for the values taken last: most of them stay from one future to the next.
struct PhysicsMemory {
  /// The scale for a mean, without asking for the gamma function again while the shape stays.
  struct MeanToScale {
    double shape = 0, scale_per_mean = 0;
    [[nodiscard]] double scale(double mean, double shape_now);
  };
  /// The logarithm of a number, without asking for it again while the number stays.
  struct KnownLog {
    double of = 1, value = 0;
    [[nodiscard]] double operator()(double x);
  };
  struct GroupLogs {
    KnownLog now, share, renewed;
  };
  struct CandidateLogs {
    KnownLog rated, survivors, shape_spread, life_spread;
  };
  MeanToScale rest_law;
  KnownLog growth, learning;
  std::vector<GroupLogs> groups;
  std::vector<KnownLog> parts;
  std::vector<CandidateLogs> candidates;
  std::vector<std::array<double, 3>> drawer_terms;  ///< per part: what its drawer was worked out for
};

/// The physical numbers of one future as plain doubles: the case's ranges replaced by the values drawn for it.
/// Copied out of the case so that the event loop reads flat memory.
struct Physics {
  double age_years = 0;
  double end = 0;         ///< of the need, years from now; infinite: it goes on
  double log_growth = 0;  ///< ln(1 + discount rate): present worth is exp(-log_growth * t)
  double rest_scale = 0, rest_inverse_shape = 1;
  double rest_hazard =
      0;  ///< gathered by the rest of the device until now, 0 where its remaining life counts from now
  double common_cause_chance = 0, common_cause_years = 0;
  // Logarithms of the chances that nothing happens: they add up over openings and joints.
  double log_no_opening_mend = 0, log_no_opening_write_off = 0, log_no_joint_mend = 0,
         log_no_joint_write_off = 0;
  /// Chances of damage at a visit, combined over its openings and joints.
  struct Damage {
    double write_off = -1, mendable = -1;
  };
  [[nodiscard]] Damage damage(int openings, int joints) const;

  double diagnosis_right = 1, second_attempt_chance = 0;
  bool second_attempt = false;
  double dead_found_after_closing = 0, misfit_found_after_closing = 0;
  /// Share of the first time that the n-th position takes: Wright's unit curve with its floor, n >= 1.
  [[nodiscard]] double learning(int n) const;

  double licensed_chance = 0;
  bool burden = false;

  struct Group {
    double log_share = 0;    ///< wear so far over the busiest position's, for originals
    double log_renewed = 0;  ///< the same for positions renewed earlier
    double share = 1, log_of_share = 0;
    double renewed_years_ago = 0;
    int joints = 0;
  };
  std::vector<Group> groups;

  struct PartWear {
    double reference_wear = 0;  ///< of the busiest position so far, in the unit of the part's life
    double z = 0;               ///< ln(rated life / reference wear)
    double other_uses_per_year = 0;
    double shelf_life_years = 0;
  };
  std::vector<PartWear> parts;

  /// What the pieces in the drawer would do if this device took none, by their number from 0 to all: see
  /// numeric/poisson_stock.hpp. Empty where the drawer has none of the part.
  struct Drawer {
    std::vector<double> uses;  ///< expected other uses, discounted
    std::vector<double> left;  ///< expected pieces left when the need or their shelf life ends, discounted
    [[nodiscard]] int pieces() const noexcept { return uses.empty() ? 0 : static_cast<int>(uses.size()) - 1; }
  };
  std::vector<Drawer> drawers;  ///< per part

  struct CandidateLife {
    int part = 0;
    double fit = 1;  ///< in what no dimension tells
    double dead_on_arrival = 0;
    double log_scale = 0;                ///< ln(rated life / use a year), in years
    double log_minus_log_survivors = 0;  ///< ln(-ln(1 - failed_at_rated))
    double shape = 1, log_shape_spread = 0, log_life_spread = 0;
  };
  std::vector<CandidateLife> candidates;  ///< of all parts, one after the other
  std::vector<int> first_candidate;       ///< per part: where its candidates begin

  /// Takes the base values of `c`, whose structure must be that of `model.c`; `memory` is of these physics alone.
  void take(const Case& c, const DeviceModel& model, PhysicsMemory& memory);

 private:
  void take_parts(const Case& c, PhysicsMemory& memory);
  void take_drawers(const Case& c, PhysicsMemory& memory);
  [[nodiscard]] Damage combine(int openings, int joints) const;
  static constexpr int known_joints = 64;
  double learning_exponent_ = 0, learning_floor_ = 0;
  mutable std::vector<double> learned_;               // by n; grows as asked
  mutable std::array<Damage, known_joints> known_{};  // of one opening; every thread has its own Physics
};

}  // namespace mendworth
