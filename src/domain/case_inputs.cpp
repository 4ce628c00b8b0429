#include "domain/input_rows.hpp"

namespace mendworth {

// A name of its own, as all of the folder is compiled in one piece and others call a parameter "device" too.
namespace case_rows {

namespace {

using namespace rows;
using enum BearsOn;
using enum FoundOut;
using Kind = InputKind;

constexpr Limits counted(double low, double high) { return {.low = low, .high = high}; }

constexpr Limits positions = counted(0, most_positions_in_group);
constexpr Limits pieces = counted(1, most_pieces);

constexpr std::array<std::string_view, 4> causes{"wear", "blow", "spill", "bad-joint"};
constexpr std::array<std::string_view, 3> life_units{"cycles", "hours", "years"};
constexpr std::array<std::string_view, 2> misfits_found{"dry", "after-closing"};

constexpr std::array device{
    at<&Device::name>("name", needed{"what the device is", "write name = \"...\" under [device]"}),
    at<&Device::currency>("currency",
                          needed{"the currency of all money in the case",
                                 "write currency = \"EUR\" or another ISO 4217 code under [device]"},
                          help{"ISO 4217 code"}),
    at<&Device::age_years>("age_years", limits::years, wear, owner, words{"age of the device", "years"},
                           needed{"how old the device is",
                                  "write age_years = 4, or a range if it is not known: { low = 2, high = 6 }",
                                  "only its owner knows"},
                           help{"how old it is"}),
    at<&Device::kind>("kind", by_hand,
                      help{"'mendworth rates' lists them: how long one lasts, where nothing below says so"}),
    at<&Device::bought_used_years_ago>("bought_used_years_ago", limits::years, course, owner,
                                       words{"years since it was bought used", "years"},
                                       help{"it worked then; leave out if it was bought new"}),
    at<&Device::use_per_day>("use_per_day", limits::use_per_day, wear, owner,
                             words{"use", "operations a day"}, needed{},
                             help{"operations of the busiest position, where a life is in cycles"}),
    at<&Device::hours_per_day>("hours_per_day", limits::hours_per_day, wear, owner,
                               words{"use", "hours a day"}, needed{},
                               help{"hours on, where a life is in hours"}),
    at<&Device::hazards>("hazards", by_hand, help{"'mendworth rates' lists the classes"}),
    at<&Device::must_keep>("must_keep", help{"true: replacing is no option"}),
    at<&Device::guarantee_until>("guarantee_until", help{"last day of a guarantee"}),
    at<&Device::guarantee_chance>("guarantee_chance", limits::chance, price, asking,
                                  words{"chance that a claim is met"}, rates{"device.guarantee_chance"},
                                  by_hand, help{"that a claim is met"}),
    at<&Device::guarantee_days>("guarantee_days", limits::days, price, asking,
                                words{"wait for a claim", "days"}, rates{"device.guarantee_days"}, by_hand,
                                help{"how long a claim takes"}),
    at<&Device::already_spent>("already_spent", limits::money, or_else{0}, help{"shown, never counted"}),
    at<&Device::resale>("resale", limits::money, price, words{"resale at the horizon", "$"},
                        rates{"device.resale"}, help{"of the working device when the need ends"}),
    at<&Device::scrap>("scrap", limits::money_or_fee, price, asking, words{"worth of the broken device", "$"},
                       or_else{0}, help{"for the broken device; negative: a fee for its disposal"}),
    at<&Device::keepsake>("keepsake", limits::money, price, owner, words{"keepsake value", "$"}, or_else{0},
                          help{"what this very device is worth beyond its use"}),
    at<&Device::life_years>("life_years", limits::device_life, course,
                            words{"life of such a device", "years"}, by_hand,
                            help{"mean life of a new one, instead of rest.remaining_years"}),
};

constexpr std::array fault{
    unplaced(Kind::choice, "cause", one_of{causes},
             help{"wear, blow, spill or bad-joint: only wear speaks about the other positions"}),
    at<&Fault::burden_per_year>(
        "burden_per_year", limits::money, price, owner, words{"burden of the fault", "$ a year"},
        help{"what living with the fault costs; leave it out if it cannot be left as it is"}),
    at<&Fault::common_cause_chance>("common_cause_chance", limits::chance, course, look,
                                    words{"chance that the spill reached the mates"},
                                    rates{"fault.common_cause_chance"}, by_hand,
                                    help{"after a spill: that it reached the other positions too"}),
    at<&Fault::common_cause_years>("common_cause_years", limits::years, course,
                                   words{"time until the spill shows there", "years"},
                                   rates{"fault.common_cause_years"}, by_hand,
                                   help{"after a spill: mean time until those fail together"}),
};

constexpr std::array position{
    at<&PositionGroup::name>("name",
                             needed{"the name of the position", "for instance name = \"volume knob\""}),
    unplaced(Kind::text, "part", needed{}, help{"the name of a [[part]]"}),
    at<&PositionGroup::count>("count", counted(1, most_positions_in_group), or_else{1}),
    at<&PositionGroup::failed>("failed", positions, or_else{0}, needed{}, help{"at least one in the case"}),
    at<&PositionGroup::renewed>("renewed", positions, or_else{0},
                                help{"working ones that were renewed earlier"}),
    at<&PositionGroup::renewed_years_ago>(
        "renewed_years_ago", limits::years, course, owner, words{"age of the renewed {}", "years"},
        needed{"when the renewed ones were renewed", "renewed_years_ago = 1, or a range"}, by_hand,
        help{"where renewed is stated"}),
    at<&PositionGroup::share>("share", limits::share_of_use, course, owner, words{"share of the use: {}"},
                              or_else{1}, help{"of the busiest position's use"}),
    at<&PositionGroup::termination>("termination", by_hand,
                                    help{"how it is attached: gives minutes and joints"}),
    at<&PositionGroup::minutes>("minutes", limits::minutes, price, look, tried,
                                words{"minutes a position: {}", "minutes"}, by_hand,
                                help{"hands-on for one: take off, clean, fit"}),
    at<&PositionGroup::joints>("joints", counted(0, most_joints), by_hand,
                               help{"soldered or latched joints worked on, for one"}),
};

/// The life of the originals of a part and of each candidate: the same keys.
template <auto Life>
constexpr std::array<Input, 7> life(std::string_view rated, std::string_view shape, BearsOn bears_on) {
  std::array<Input, 7> rows{
      unplaced(Kind::text, "class", help{"gives the life; or state rated_life and life_unit"}),
      unplaced(Kind::choice, "life_unit", one_of{life_units}, help{"cycles, hours or years"}),
      at<Life, &LifePrior::rated_life>("rated_life", limits::life, bears_on, record, words{rated}, by_hand),
      at<Life, &LifePrior::failed_at_rated>("failed_at_rated", limits::fraction_failed,
                                            rates{"part.failed_at_rated"}, by_hand,
                                            help{"the share that has failed at the rated life"}),
      at<Life, &LifePrior::life_spread>("life_spread", limits::life_spread, rates{"part.life_spread"},
                                        by_hand,
                                        help{"the true life lies within this factor in 68 % of cases"}),
      at<Life, &LifePrior::shape>("shape", limits::shape, course, record, words{shape}, rates{"part.shape"},
                                  by_hand, help{"Weibull: 1 chance, 2 usual wear, above 4 rapid wear-out"}),
      at<Life, &LifePrior::shape_spread>("shape_spread", limits::shape_spread, rates{"part.shape_spread"},
                                         by_hand, help{"likewise for the shape"}),
  };
  rows.front().starred = bears_on == wear;  // a candidate has the life of the part, if it states none
  return rows;
}

constexpr std::array dimension{
    at<&Dimension::name>("name", needed{"the name of the dimension", "for instance name = \"stem height\""}),
    at<&Dimension::measured>("measured", limits::size_mm, words{"", "mm"},
                             needed{"the measured size in mm", "for instance measured = 4.3"}),
    at<&Dimension::limit>(
        "limit", limits::size_error_mm, words{"", "mm"},
        needed{"the greatest error of the measurement in mm",
               "for instance limit = 0.05 with a vernier caliper, 0.1 to 0.2 by hand on soft plastic"},
        help{"greatest error of the measurement; by hand on soft plastic 0.1 to 0.2"}),
    at<&Dimension::below>("below", limits::size_error_mm, words{"", "mm"}, or_else{0},
                          help{"a piece may be smaller than the true size by so much,"}),
    at<&Dimension::above>("above", limits::size_error_mm, words{"", "mm"}, or_else{0},
                          help{"or larger by so much; one of the two must be there"}),
};

constexpr std::array price_break{
    at<&PriceBreak::from>("from", pieces, needed{"the quantity from which this price holds", "from = 10"}),
    at<&PriceBreak::each>("each", limits::money, purchase, asking, tried, words{"price of {}", "@"},
                          needed{"what one piece costs", "each = 0.38"}),
};

constexpr std::array offer{
    unplaced(Kind::text, "supplier", needed{}, help{"where there is more than one"}),
    single<&Offer::prices, &PriceBreak::each>(
        "price", words{"price of {}", "@"},
        needed{"what one piece costs",
               "price = 0.45, or prices = [{ from = 1, each = 0.45 }, { from = 10, each = 0.38 }]"},
        help{"of one piece, in the supplier's currency; or prices by quantity"}),
    steps<&Offer::prices>("prices", price_break,
                          help{"or price = 0.45 for any quantity; in the supplier's currency"}),
    at<&Offer::least>("least", pieces, or_else{1}, help{"least quantity"}),
    at<&Offer::multiple>("multiple", pieces, or_else{1}, help{"order multiple"}),
    at<&Offer::stock>("stock", counted(0, most_pieces), help{"pieces that the supplier has"}),
    at<&Offer::line_fee>("line_fee", limits::money, purchase, asking, words{"line fee for {}", "@"},
                         or_else{0}, help{"for this line of an order, whatever its quantity"}),
};

constexpr Input nominal =
    unplaced(Kind::sizes, "nominal", limits::size_mm, help{"catalogued sizes by dimension, in mm"});

constexpr std::array candidate = joined(
    joined(
        std::array{
            at<&Candidate::name>(
                "name", by_hand,
                needed{"the name of the candidate", "for instance name = \"button 6x6, 5 mm\""}),
            nominal,
            at<&Candidate::fit>("fit", limits::chance, course, look, words{"chance that it fits: {}"},
                                rates{"candidate.fit"}, by_hand,
                                help{"chance that it fits in all else; without dimensions, at all"}),
            at<&Candidate::dead_on_arrival>(
                "dead_on_arrival", limits::chance, course, record, words{"chance of a dead piece: {}"},
                rates{"candidate.dead_on_arrival"}, by_hand, help{"chance that a new piece is dead"}),
        },
        life<&Candidate::life>("rated life of the new {}", "wear-out of the new {} (Weibull shape)", course)),
    std::array{table<&Candidate::offers>("offer", offer, needed{})});

constexpr std::array part = joined(
    joined(std::array{at<&Part::name>("name",
                                      needed{"the name of the part", "for instance name = \"button 6x6\""})},
           life<&Part::life>("rated life: {}", "wear-out: {} (Weibull shape)", wear)),
    std::array{
        table<&Part::dimensions>("dimension", dimension, counted(0, most_dimensions),
                                 help{"measured on the old piece or its place; millimetres"}),
        table<&Part::candidates>("candidate", candidate,
                                 help{"things that serve as this part; or offers directly: [[part.offer]]"}),
        unplaced_table(Kind::tables, "offer", offer, help{"of a part without candidates"}),
        nominal,
        unplaced(Kind::quantity, "fit", limits::chance, help{"of a part without candidates"}),
        unplaced(Kind::quantity, "dead_on_arrival", limits::chance,
                 help{"chance that a new piece is dead, unless the candidate says otherwise"}),
        at<&Part::other_uses_per_year>("other_uses_per_year", limits::pieces_per_year, course, owner,
                                       words{"other uses of spares: {}", "a year"}, or_else{0},
                                       help{"pieces that other jobs would take from the spares"}),
        at<&Part::shelf_life_years>("shelf_life_years", limits::years, course, record,
                                    words{"shelf life: {}", "years"}, rates{"part.shelf_life_years"},
                                    help{"of a spare"}),
        at<&Part::spare_resale>("spare_resale", limits::money, price, asking,
                                words{"worth of an unused {}", "$"}, or_else{0}, help{"of an unused piece"}),
    });

constexpr std::array shipping_tier{
    at<&ShippingTier::goods_from>(
        "goods_from", limits::money,
        needed{"the value of goods from which this price holds", "goods_from = 0 in the first tier"}),
    at<&ShippingTier::price>("price", limits::money, purchase, asking, tried, words{"shipping from {}", "@"},
                             needed{"what shipping costs", "price = 4.90, or 0"}),
};

constexpr std::array supplier{
    at<&Supplier::name>("name", needed{"the name of the supplier", "for instance name = \"parts by post\""}),
    at<&Supplier::currency>("currency", by_hand, help{"ISO 4217 code; otherwise that of the device"}),
    at<&Supplier::exchange_rate>(
        "exchange_rate", limits::exchange_rate, purchase, asking, tried, words{"exchange rate: {}"},
        needed{"what one of the supplier's currency costs in the device's", "exchange_rate = 1.15"}, by_hand,
        help{"one of its currency in the device's"}),
    at<&Supplier::exchange_fee>("exchange_fee", limits::share_of_money, purchase, asking,
                                words{"exchange fee: {}"}, rates{"supplier.exchange_fee"}, by_hand,
                                help{"of the bank or card"}),
    single<&Supplier::shipping, &ShippingTier::price>(
        "shipping", words{"shipping from {}", "@"},
        needed{"what the supplier asks for shipping", "shipping = 4.90, or 0 where it costs nothing"},
        help{"one number, or a list of tiers by value of goods"}),
    steps<&Supplier::shipping>("shipping", shipping_tier),
    at<&Supplier::low_order_below>("low_order_below", limits::money, purchase, asking,
                                   words{"low-order limit: {}", "@"}, or_else{0}, help{"value of goods"}),
    at<&Supplier::low_order_fee>("low_order_fee", limits::money, purchase, asking,
                                 words{"low-order fee: {}", "@"}, or_else{0}),
    at<&Supplier::refuses_low_orders>("refuses_low_orders"),
    at<&Supplier::tax>("tax", limits::share_of_money, purchase, asking, words{"tax rate: {}"}, or_else{0},
                       help{"on goods, shipping, fees and duty; 0 where prices include it"}),
    at<&Supplier::duty>("duty", limits::share_of_money, purchase, asking, words{"duty rate: {}"}, or_else{0}),
    at<&Supplier::duty_free_up_to>("duty_free_up_to", limits::money, purchase, asking,
                                   words{"free of duty up to: {}", "@"}, or_else{0},
                                   help{"customs value, in the supplier's currency"}),
    at<&Supplier::duty_on_shipping>("duty_on_shipping", help{"shipping is part of the customs value"}),
    at<&Supplier::customs_fee>("customs_fee", limits::money, purchase, asking,
                               words{"customs handling: {}", "@"}, or_else{0},
                               help{"the carrier's, when duty is due"}),
    at<&Supplier::lead_days>("lead_days", limits::days, purchase, asking, words{"lead time: {}", "days"},
                             rates{"supplier.lead_days"}, help{"from the order to the doorstep"}),
    at<&Supplier::other_goods>("other_goods", limits::money, or_else{0},
                               help{"goods for other jobs on the same order"}),
};

constexpr std::array labour{
    at<&Labour::rate_per_hour>(
        "rate_per_hour", limits::money, price, owner, words{"labour rate", "$ an hour"},
        needed{"what an hour of work is worth",
               "write rate_per_hour = 20 under [labour], or 0 if own time is to count as free",
               "only you know"},
        by_hand, help{"0 if own time counts as free"}),
    at<&Labour::skill>("skill", by_hand, help{"'mendworth rates' lists them"}),
    at<&Labour::case_minutes>("case_minutes", limits::minutes, price, look, tried,
                              words{"minutes once per case", "minutes"}, by_hand,
                              help{"once: diagnosis, finding the part, ordering"}),
    at<&Labour::visit_minutes>("visit_minutes", limits::minutes, price, look, tried,
                               words{"minutes per opening", "minutes"}, by_hand,
                               help{"per opening: open, clean, test, close, hand over"}),
    unplaced(Kind::quantity, "position_minutes", limits::minutes, words{"minutes a position", "minutes"},
             help{"per position, where it does not say its own"}),
    at<&Labour::learning_rate>("learning_rate", limits::learning_rate, course, record, words{"learning rate"},
                               or_else{1}, help{"of the time is left when the count doubles; 1: none"}),
    at<&Labour::learning_floor>("learning_floor", limits::chance, rates{"labour.learning_floor"}, by_hand,
                                help{"least share of the first time"}),
    at<&Labour::done_before>("done_before", counted(0, most_pieces), or_else{0},
                             help{"positions of this kind already renewed"}),
};

constexpr std::array second_attempt{
    at<&SecondAttempt::minutes>("minutes", limits::minutes, price, record, tried,
                                words{"minutes of a second attempt", "minutes"},
                                needed{"the time that a second attempt takes", "minutes = 30"}),
    at<&SecondAttempt::money>("money", limits::money, price, record, words{"money of a second attempt", "$"},
                              or_else{0}),
    at<&SecondAttempt::chance>("chance", limits::chance, course, record,
                               words{"chance that a second attempt cures it"},
                               needed{"the chance that a second attempt cures it", "chance = 0.5"}),
};

constexpr std::array risk{
    at<&Risks::opening_mendable>("opening_mendable", limits::chance, course, record,
                                 words{"chance of mendable damage per opening"}, by_hand,
                                 help{"per opening"}),
    at<&Risks::opening_write_off>("opening_write_off", limits::chance, course, record,
                                  words{"chance of a ruined device per opening"}, by_hand),
    at<&Risks::joint_mendable>("joint_mendable", limits::chance, course, record,
                               words{"chance of mendable damage per joint"}, by_hand, help{"per joint"}),
    at<&Risks::joint_write_off>("joint_write_off", limits::chance, course, record,
                                words{"chance of a ruined device per joint"}, by_hand),
    at<&Risks::mend_minutes>("mend_minutes", limits::minutes, price, record, tried,
                             words{"minutes to mend damage", "minutes"}, rates{"risk.mend_minutes"}, by_hand),
    at<&Risks::mend_money>("mend_money", limits::money, price, record, words{"money to mend damage", "$"},
                           or_else{0}),
    at<&Risks::diagnosis_right>("diagnosis_right", limits::chance, course, look, tried,
                                words{"chance that the diagnosis is right"}, by_hand,
                                help{"the visit cures the device"}),
    table<&Risks::second_attempt>(
        "second_attempt", second_attempt,
        help{"if the first visit does not cure; without it the device is then replaced"}),
    at<&Risks::dead_found_after_closing>("dead_found_after_closing", limits::chance, course, record,
                                         words{"dead pieces found only after closing"},
                                         rates{"risk.dead_found_after_closing"},
                                         help{"share of dead pieces that show only then"}),
    unplaced(Kind::choice, "misfit_found", one_of{misfits_found},
             help{"or \"after-closing\"; or misfit_found_after_closing = 0.25, a share"}),
    at<&Risks::misfit_found_after_closing>("misfit_found_after_closing", limits::chance, course, record,
                                           words{"misfits found only after closing"},
                                           rates{"risk.misfit_found_after_closing"}, by_hand,
                                           help{"share of misfits that show only then"}),
    at<&Risks::dry_fit_minutes>("dry_fit_minutes", limits::minutes, price, record, tried,
                                words{"minutes of a dry fit", "minutes"}, rates{"risk.dry_fit_minutes"},
                                by_hand, help{"spent on a misfit that a dry fit shows"}),
};

constexpr std::array consumable{
    at<&Consumable::name>("name", needed{"what is used up", "for instance name = \"adhesive feet\""}),
    at<&Consumable::price>("price", limits::money, price, asking, tried, words{"price of {}", "$"},
                           needed{"what it costs", "price = 0.50"}),
    at<&Consumable::chance>("chance", limits::chance, price, record, words{"chance that {} is used up"},
                            or_else{1}, help{"that they are needed"}),
};

constexpr std::array replacement{
    at<&Replacement::name>("name",
                           needed{"the name of the replacement", "for instance name = \"the same, new\""}),
    at<&Replacement::price>(
        "price", limits::money, price, asking, words{"price of {}", "@"},
        needed{"what the replacement costs",
               "write price = 80, or price = \"unknown\" if none is sold any more", "only you know"},
        or_word{"unknown"}, help{"or \"unknown\" if none is sold any more"}),
    at<&Replacement::tax>("tax", limits::share_of_money, price, asking, words{"tax on {}"}, or_else{0},
                          help{"added to price and shipping; 0 where they include it"}),
    at<&Replacement::shipping>("shipping", limits::money, price, asking, words{"shipping of {}", "@"},
                               or_else{0}),
    at<&Replacement::life_years>(
        "life_years", limits::device_life, prospect, words{"life of {}", "years"},
        needed{"how many years the replacement is expected to last",
               "write life_years = 5, or a range: { low = 3, high = 8 }", "only you can say"},
        help{"mean life"}),
    at<&Replacement::alike>("alike", help{"a new one of the device's own kind: it lasts as long"}),
    at<&Replacement::life_shape>("life_shape", limits::shape, prospect,
                                 words{"wear-out of {} (Weibull shape)"}, rates{"replacement.life_shape"},
                                 help{"Weibull"}),
    at<&Replacement::setup_minutes>("setup_minutes", limits::minutes, price, owner,
                                    words{"set-up of {}", "minutes"}, rates{"replacement.setup_minutes"},
                                    help{"programming, labelling, learning"}),
    at<&Replacement::benefit_per_year>("benefit_per_year", limits::money, price, owner,
                                       words{"benefit of {}", "$ a year"}, or_else{0},
                                       help{"worth of what it does better"}),
    at<&Replacement::resale>("resale", limits::money, price, words{"resale of {} at the horizon", "$"},
                             or_else{0}, help{"when the need ends, if it still works"}),
    at<&Replacement::delivery_days>("delivery_days", limits::days, price, asking,
                                    words{"delivery of {}", "days"}, rates{"replacement.delivery_days"}),
    at<&Replacement::currency>("currency", by_hand,
                               help{"of its price and shipping, ISO 4217 code; otherwise the device's"}),
    at<&Replacement::exchange_rate>(
        "exchange_rate", limits::exchange_rate, price, asking, words{"exchange rate: {}"}, by_hand,
        help{"one of its currency in the device's, with what a bank or card takes"}),
};

constexpr std::array rest{
    at<&Rest::remaining_years>("remaining_years", limits::device_life, course,
                               words{"remaining life of the rest", "years"}, help{"mean, from now"}),
    at<&Rest::shape>("shape", limits::shape, course, words{"wear-out of the rest (Weibull shape)"},
                     rates{"rest.shape"}),
};

constexpr std::array downtime{
    at<&Downtime::per_day>("per_day", limits::money, purchase, owner, words{"cost of a day without it", "$"},
                           rates{"downtime.per_day"}, help{"what a day without the device costs"}),
    at<&Downtime::bench_days>("bench_days", limits::days, price, look, words{"days on the bench", "days"},
                              rates{"downtime.bench_days"},
                              help{"days that a visit takes beside the wait for parts"}),
};

constexpr std::array horizon{
    at<&Horizon::years>("years", limits::years_of_need, course, owner, words{"horizon", "years"},
                        help{"until the need ends; without it the need goes on"}),
    at<&Horizon::discount_rate>("discount_rate", limits::discount_rate, prospect,
                                words{"discount rate a year", "a year"}, rates{"horizon.discount_rate"},
                                help{"real, per year"}),
};

constexpr std::array licensed_repair{
    at<&LicensedRepair::price>(
        "price", limits::money, price, asking, words{"price of the licensed repair", "$"},
        needed{"what the licensed repair costs, all in", "price = 120, or leave [licensed_repair] out"},
        help{"all in"}),
    at<&LicensedRepair::chance>("chance", limits::chance, course, record,
                                words{"chance that a licensed repair cures it"},
                                rates{"licensed_repair.chance"}),
    at<&LicensedRepair::days>("days", limits::days, price, asking,
                              words{"days at the licensed repairer", "days"}, rates{"licensed_repair.days"}),
    at<&LicensedRepair::minutes>("minutes", limits::minutes, price, owner,
                                 words{"own time for the licensed repair", "minutes"}, or_else{0},
                                 help{"own time: to take it there and fetch it"}),
};

constexpr std::array bulk{
    at<&Bulk::devices>("devices", counted(1, most_devices), needed{},
                       help{"of the fleet, this one included"}),
    at<&Bulk::jobs_per_month>("jobs_per_month", limits::jobs_per_month,
                              help{"a shop instead of devices and failed"}),
    at<&Bulk::pieces_per_job>("pieces_per_job", pieces, help{"of a shop"}),
    at<&Bulk::failed>("failed", counted(1, most_devices), by_hand, help{"of these: have a failed part now"}),
    at<&Bulk::years>("years", limits::years_of_need, words{"", "years"}, rates{"bulk.years"},
                     help{"until when"}),
    at<&Bulk::order_cost>("order_cost", limits::money, words{"", "$"}, by_hand,
                          help{"to place and book an order; or order_minutes"}),
    unplaced(Kind::quantity, "order_minutes", limits::minutes, words{"", "minutes"},
             help{"instead of order_cost, at the labour rate"}),
    at<&Bulk::carrying_rate>("carrying_rate", limits::share_of_money, words{"", "a year"},
                             rates{"bulk.carrying_rate"},
                             help{"cost of keeping stock, a share of its value a year"}),
    at<&Bulk::shortage_cost>("shortage_cost", limits::money, words{"", "$"},
                             help{"of a piece that is missing"}),
    at<&Bulk::repair_days>("repair_days", limits::days, words{"", "days"}, help{"turnaround of a unit"}),
    at<&Bulk::cover>("cover", limits::cover, rates{"bulk.cover"},
                     help{"wanted chance that stock or spare units suffice"}),
};

constexpr std::array intake{
    at<&Intake::customer>("customer", help{"name and address, a line each"}),
    at<&Intake::serial>("serial"),
    at<&Intake::condition>("condition"),
    at<&Intake::fault>("fault", help{"otherwise from the failed positions"}),
    at<&Intake::not_included>("not_included", help{"what will not be done"}),
    at<&Intake::accessories>("accessories", help{"left with the device, a line each"}),
    at<&Intake::paid>("paid", limits::money, words{"", "$"}, or_else{0},
                      help{"already, tax included: taken off what is to pay"}),
    at<&Intake::rush>("rush", help{"to be done before its turn"}),
    at<&Intake::collection>("collection", help{"fetched and brought back"}),
    at<&Intake::parts_from_customer>("parts_from_customer", help{"the customer brings the parts"}),
};

constexpr std::array what_if{
    unplaced(Kind::text, "name", needed{"the name of the what-if", "for instance name = \"dearer labour\""},
             help{"and keys of the case with other values, \"+10 %\" or \"x 0.5\""}),
};

constexpr std::array whole{
    table<&Case::device>("device", device, needed{}),
    table<&Case::fault>("fault", fault),
    table<&Case::positions>("position", position,
                            needed{"the places on the device where wear parts sit",
                                   "add a [[position]] with its part, count and failed"},
                            help{"positions that are alike: same part, same use, same work"}),
    table<&Case::parts>("part", part,
                        needed{"the wear parts of the positions", "add a [[part]] with a [[part.offer]]"}),
    table<&Case::suppliers>(
        "supplier", supplier, by_hand,
        needed{"where parts are bought", "add a [[supplier]] with its name and shipping"}),
    table<&Case::labour>("labour", labour),
    table<&Case::risks>("risk", risk, help{"chances of damage, by default from the skill"}),
    table<&Case::consumables>("consumable", consumable, help{"what an opening uses up"}),
    table<&Case::replacements>("replacement", replacement, by_hand,
                               needed{"what a replacement for the device costs and how long it lasts",
                                      "add a [[replacement]] with price and life_years; price = \"unknown\" "
                                      "if none is sold any more; or must_keep = true under [device]"},
                               help{"unless must_keep"}),
    table<&Case::rest>("rest", rest, help{"everything of the device but the positions"}),
    table<&Case::downtime>("downtime", downtime),
    table<&Case::horizon>("horizon", horizon),
    table<&Case::licensed_repair>("licensed_repair", licensed_repair,
                                  help{"what a licensed person or qualified place asks"}),
    table<&Case::bulk>(
        "bulk", bulk,
        help{"for 'mendworth bulk' alone: a fleet of equal devices, or a shop (jobs_per_month)"}),
    table<&Case::intake>(
        "intake", intake,
        help{"for 'mendworth quote' alone: what a shop notes down when it takes the device in"}),
    unplaced_table(Kind::tables, "what_if", what_if, open,
                   help{"the same case with something changed, shown beside it"}),
    unplaced_table(Kind::table, "rows", {}, open,
                   help{"for 'mendworth rows' alone: headings of a table, and the keys that they stand for"}),
};

}  // namespace

}  // namespace case_rows

std::span<const Input> case_inputs() { return case_rows::whole; }

}  // namespace mendworth
