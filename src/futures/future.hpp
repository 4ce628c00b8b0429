#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <vector>

#include "futures/physics.hpp"
#include "numeric/random.hpp"

namespace mendworth {

inline constexpr double never = std::numeric_limits<double>::infinity();

/// What one future holds, the same for every option: the lives of the originals, the end of the rest of the
/// device, whether candidates fit, the lives of new pieces and new devices. Numbers that only some options need
/// are drawn when first asked for; each depends on (seed, future, what it is for) alone.
class Future {
 public:
  Future(const DeviceModel& model, std::uint64_t seed);

  /// Turns to another future, of the first device.
  void begin(std::uint64_t number, const Physics& physics);
  /// Turns to another of several equal devices in the same future: laws of lives, ranges, fit and the true dimensions
  /// stay; each piece has a luck of its own. Device 0 is the one of begin(). `device` < 2^20.
  void turn_to_device(std::uint64_t device);

  /// The law of the originals of a part, relative to the reference wear.
  [[nodiscard]] LifeDraw original_law(int part) const;

  [[nodiscard]] std::uint64_t number() const noexcept { return number_; }
  [[nodiscard]] const Physics& physics() const noexcept { return *physics_; }
  /// Years from now until an original or earlier renewed position fails; `never` where the need or the rest of the
  /// device ends before.
  [[nodiscard]] double failure(int position) const { return failures_[static_cast<std::size_t>(position)]; }
  [[nodiscard]] const std::vector<double>& failures() const noexcept { return failures_; }
  /// Years from now until the rest of the device ends.
  [[nodiscard]] double rest_end() const noexcept { return rest_end_; }

  /// Whether a candidate (numbered over all parts) fits; a property of candidate and device. Candidates of one part
  /// meet the same true dimensions; in what no dimension tells, each has a luck of its own.
  [[nodiscard]] bool fits(int candidate);
  /// Draws anew whether the candidates of a part fit, until the next future begins; null: as drawn.
  void draw_fit_anew(int part, const RandomBlocks* others) noexcept {
    refitted_part_ = part;
    refit_ = others;
  }

  /// Luck of renewing a position for the n-th time (from 0) with a piece of a candidate.
  struct Renewal {
    double life_years =
        0;  ///< of the new piece at this position; `never` if longer than the device is needed or lasts
    bool dead = false;   ///< on arrival
    double u_found = 0;  ///< uniform, for a dead one: found only after closing
  };
  [[nodiscard]] Renewal renewal(int position, int n, int candidate);

  /// Uniforms for the k-th visit (from 0): write-off, mendable damage, diagnosis, second attempt.
  [[nodiscard]] std::array<double, 4> visit_luck(int k);
  /// Uniform for how the misfit of a candidate shows.
  [[nodiscard]] double misfit_luck(int candidate);

  /// Unit exponential deviate: the wait for the i-th other use of a part, times its yearly rate.
  [[nodiscard]] double other_use_wait(int part, int i);

 private:
  /// A candidate in this future: whether it fits and how long its pieces last.
  struct Candidate {
    bool ready = false;
    std::array<double, 4> u{};
    bool law_ready = false;
    double shape = 1, log_scale_years = 0;
  };
  /// Options renew the same positions in the same order, so the first few renewals are asked for again and again.
  struct KnownRenewal {
    std::uint64_t turn = 0;  ///< of the future that it was drawn for
    int candidate = -1;
    Renewal renewal;
  };
  /// Numbers that come four to a block, each transformed only when it is asked for.
  struct Series {
    std::vector<double> uniforms;
    std::vector<double> values;
    void clear() {
      uniforms.clear();
      values.clear();
    }
  };
  template <class Transform>
  double next_of(Series& series, Stream stream, int which, int i, Transform transform);
  static constexpr int known_depth = 4;
  /// A number that is worked out once for a future.
  struct Once {
    std::uint64_t turn = 0;
    double value = 0;
  };
  /// One block serves two neighbouring positions.
  struct RenewalLuck {
    std::uint64_t turn = 0;
    int pair = -1, n = -1;
    std::array<double, 4> u{};
  };

  [[nodiscard]] std::uint64_t luck_index(int candidate) const;
  [[nodiscard]] bool dimensions_fit(int candidate, const RandomBlocks& random) const;
  [[nodiscard]] Renewal draw_renewal(int position, int n, int candidate);
  [[nodiscard]] Candidate& candidate_of(int candidate);
  [[nodiscard]] const Candidate& law_of(int candidate);
  /// Chance that a new piece of a candidate outlives the device in a group.
  [[nodiscard]] double outlives(int candidate, int group);
  static std::uint64_t index(int i) noexcept { return static_cast<std::uint64_t>(i); }
  /// The index of what each device has for itself.
  [[nodiscard]] std::uint64_t own_index(int i) const noexcept { return index(i) + (device_ << 40U); }

  const DeviceModel* model_;
  RandomBlocks random_;
  const RandomBlocks* refit_ = nullptr;
  int refitted_part_ = -1;
  const Physics* physics_ = nullptr;
  std::uint64_t number_ = 0, device_ = 0;
  std::uint64_t turn_ = 0;  ///< counts futures, so that what is known of one is not taken for another's
  double rest_end_ = 0;
  double limit_ = 0,
         log_limit_ = 0;  ///< years from now when the need or the rest ends; nothing later matters
  std::vector<double> failures_;
  std::vector<Candidate> candidates_;   // per candidate
  std::vector<KnownRenewal> renewals_;  // known_depth per position
  std::vector<Once> outlives_;          // per candidate and group
  RenewalLuck renewal_luck_;
  std::vector<Series> other_waits_;            // per part
  std::vector<std::array<double, 4>> visits_;  // luck of the first visits
};

}  // namespace mendworth
