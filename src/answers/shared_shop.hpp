#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "answers/shared_jobs.hpp"

namespace mendworth {

/// What several jobs may buy from: one case with the suppliers and parts of all, each once (shared_order.hpp says what
/// is the same).
class SharedShop {
 public:
  /// The jobs must outlive it. Throws InputError if they contradict each other.
  explicit SharedShop(const std::vector<OrderJob>& jobs);

  /// A part of the order.
  struct Wanted {
    std::vector<std::size_t> jobs;
    std::vector<int> pieces;  ///< of each of these jobs
  };
  struct Search {
    /// With every device that may be stripped for parts, and the drawer if it has anything, as suppliers behind the others.
    Case shop;
    std::size_t suppliers = 0;          ///< of them that are ordered from, the first
    std::vector<std::size_t> stripped;  ///< the jobs of those devices, in the order of their suppliers
    std::vector<WishedPart> wished;     ///< of the order
    std::vector<Wanted> wanted;         ///< who wants them
    BasketSearch baskets;
    bool any_left_out = false;  ///< of the devices that may be stripped: there are more than are looked at
  };
  /// How much work goes into a search.
  struct Effort {
    std::int64_t most_steps = most_basket_steps;
    std::size_t most_looks = BasketLimits{}.most_looks;
  };
  /// The best basket for a set of jobs: chosen[j] of job j, which must be able to be repaired. Of devices to strip those
  /// are looked at of which a piece is had for the least work, at most `most_stripped`.
  [[nodiscard]] Search search(const std::vector<char>& chosen, const Effort& effort) const;
  static constexpr std::size_t most_stripped = 12;

  /// No set of jobs with job j gets its pieces for less than this from these suppliers (bit s: supplier s), beside what
  /// the suppliers ask for their parcels; infinite: not from these.
  [[nodiscard]] double least_cost(std::size_t job, unsigned suppliers) const;
  /// What a supplier asks at the least beside its goods, for a parcel of any of these jobs.
  [[nodiscard]] double least_parcel(std::size_t supplier, const std::vector<char>& chosen) const;

  /// Whether their pieces are bought together.
  [[nodiscard]] static bool same_part(const Part& a, const Part& b);

  [[nodiscard]] const Case& shop() const noexcept { return shop_; }
  [[nodiscard]] const std::vector<std::string>& notes() const noexcept { return notes_; }

 private:
  std::size_t supplier_of(const Case& c, int index);
  std::size_t part_of(const Case& c, int index);
  void pool(Candidate& known, const Candidate& more, const Case& c, const std::string& part);
  [[nodiscard]] WishedPart joined(std::size_t part, const std::vector<std::size_t>& jobs) const;
  [[nodiscard]] const WishedPart* wish_of(std::size_t job, std::size_t part) const;
  [[nodiscard]] double least_goods(const WishedPart& wished, std::size_t part, unsigned suppliers) const;
  void note_apart();
  [[nodiscard]] std::vector<std::size_t> to_strip(Search& search, const std::vector<char>& chosen) const;
  void offer_stripped(Search& search, Case& shop, const std::vector<char>& chosen) const;
  [[nodiscard]] std::vector<PriceBreak> ladder_of(const Stripping::Good& good, const Wanted& wanted,
                                                  std::size_t part) const;
  [[nodiscard]] double age_loss_of(std::size_t job, std::size_t wish, double share,
                                   const Stripping::Good& good) const;

  const std::vector<OrderJob>& jobs_;
  Case shop_;
  std::vector<std::string> stated_by_;               // the file that a supplier is from
  std::vector<std::string> part_from_;               // the file that a part is from
  std::vector<std::vector<std::size_t>> part_wish_;  // by job and wish: index into shop_.parts
  std::vector<std::string> notes_;
  mutable std::map<std::tuple<std::size_t, std::size_t, double, double, double, double>, double>
      losses_;  // by job, wish, share, and age and law of the piece
};

/// The worth of leftovers that several jobs share: what other devices and resale make of them, which all jobs mean alike
/// (the most that one of them says), and what each job's own later failures add to that, the pieces divided between the
/// jobs so that it is most. Of a single job it is that job's curve.
[[nodiscard]] WorthCurve shared_worth(const std::vector<SpareWorth::OfCandidate>& worths);

}  // namespace mendworth
