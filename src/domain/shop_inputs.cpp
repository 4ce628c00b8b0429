#include "domain/input_rows.hpp"
#include "mendworth/shop.hpp"

namespace mendworth {

// A name of its own, as all of the folder is compiled in one piece.
namespace shop_rows {

namespace {

using namespace rows;
using Kind = InputKind;

constexpr Limits chance{0, 1, "written as a fraction: 5 % is 0.05", 1e-6};
constexpr Limits margin_share{0, 0.99, "a share of the income, as a fraction: 30 % is 0.3", 1e-6};
constexpr Limits fee{limits::positive_money.low, limits::positive_money.high,
                     "leave it out if none is charged"};
constexpr Limits share_of_labour{0, 10, "a share of labour, as a fraction: 50 % is 0.5", 1e-6};
constexpr Limits times{0.01, 100, "the price as a multiple of the cost: 40 % on top is 1.4"};
constexpr Limits tax_rate{0, 1, "a tax is written as a fraction: 19 % is 0.19", 1e-6};
constexpr Limits confidence{0.5, 0.999, "a share of the jobs, as a fraction: 90 % is 0.9"};
constexpr double most_days = 36'500;

constexpr std::array<std::string_view, 2> decimal_marks{".", ","};
constexpr std::array<std::string_view, 5> group_marks{"", ",", ".", " ", "'"};
constexpr std::array<std::string_view, 3> shipping_charges{"line", "spread", "shop"};
constexpr std::array<std::string_view, 2> tax_by{"total", "line"};
constexpr std::array<std::string_view, 8> line_kinds{"labour",    "parts", "consumables", "shipping",
                                                     "diagnosis", "rush",  "collection",  "discount"};

constexpr std::array shop{
    at<&Shop::letterhead>("letterhead", help{"at the head of the customer's page"}),
    at<&Shop::currency>("currency", help{"ISO 4217 code; must be that of the case"}),
    at<&Shop::licensed_for>("licensed_for", by_hand,
                            help{"hazard classes that the shop may work on; 'mendworth rates' lists them"}),
};

constexpr std::array writing{
    unplaced(Kind::choice, "decimal_mark", one_of{decimal_marks}, help{"or \".\""}),
    unplaced(Kind::choice, "group_mark", one_of{group_marks},
             help{"between groups of three digits: \"\", \",\", \".\", \" \" or \"'\""}),
    at<&Shop::style, &NumberStyle::currency>("currency", help{"otherwise the ISO 4217 code"}),
    at<&Shop::style, &NumberStyle::currency_first>("currency_first", help{"12,50 € and not € 12,50"}),
    unplaced(Kind::text, "date_form", help{"YYYY, MM and DD with marks between"}),
};

constexpr std::array labour{
    at<&Shop::charge_rate>("charge_rate", limits::money, words{"", "$ an hour"},
                           help{"an hour; otherwise the labour rate of the case"}),
    at<&Shop::cost_rate>("cost_rate", limits::money, words{"", "$ an hour"},
                         help{"what an hour costs the shop (range); otherwise the case's rate"}),
    at<&Shop::billing_increment_minutes>("billing_increment_minutes", limits::minutes, words{"", "minutes"},
                                         or_else{0},
                                         help{"every one begun is charged; 0: minutes as they are"}),
    at<&Shop::minimum_charge>("minimum_charge", limits::money, words{"", "$"}, or_else{0},
                              help{"least charge for the labour of a job"}),
};

constexpr std::array flat_rate{
    at<&FlatRate::name>(
        "name",
        needed{"what the customer reads for this job", "for instance name = \"Two station buttons renewed\""},
        help{"as the customer reads it"}),
    at<&FlatRate::part>(
        "part", needed{"the part that it renews, by its name in the case", "for instance part = \"button\""},
        help{"the name of the part in the case"}),
    at<&FlatRate::positions>("positions", Limits{.low = 1, .high = most_positions_in_group}, or_else{1},
                             help{"how many of them"}),
    at<&FlatRate::price>("price", limits::positive_money, words{"", "$"},
                         needed{"what the job costs", "for instance price = 45"}),
    at<&FlatRate::parts_included>("parts_included",
                                  help{"the part, its shipping and consumables are in the price"}),
};

constexpr std::array diagnosis{
    at<&Shop::diagnosis_fee>("fee", fee, words{"", "$"}, help{"for finding out what a repair takes"}),
    at<&Shop::diagnosis_credited>("credited", help{"not charged if the job goes ahead"}),
    at<&Shop::diagnosis_minutes>("minutes", limits::minutes, words{"", "minutes"},
                                 help{"on the bench until the customer decides (range)"}),
    at<&Shop::walk_away>("walk_away", chance, help{"share of customers who then do not go ahead (range)"}),
};

constexpr std::array band{
    at<&MarkupBand::cost_from>(
        "cost_from", limits::money, words{"", "$"},
        needed{"the cost of a piece from which this band holds", "cost_from = 0 in the first band"}),
    at<&MarkupBand::times>("times", times,
                           needed{"the price as a multiple of the cost", "times = 1.4 puts 40 % on top"}),
};

constexpr std::array parts{
    table<&Shop::markup>(
        "markup", band,
        help{"price as a multiple of what a piece costs the shop; without it, parts at cost"}),
    at<&Shop::least_markup>("least_markup", limits::money, words{"", "$"}, or_else{0},
                            help{"least sum added to the cost of a line of parts"}),
    unplaced(Kind::choice, "shipping", one_of{shipping_charges},
             help{"line: a line of its own, at cost; spread: over the pieces; shop: the shop bears it"}),
};

constexpr std::array consumables{
    at<&Shop::consumables_flat>("flat", limits::money, words{"", "$"},
                                help{"a job; or a share of labour instead:"}),
    at<&Shop::consumables_share>("share", limits::share_of_money, help{"of labour, instead of flat"}),
};

constexpr std::array fees{
    at<&Shop::rush_flat>("rush", limits::money, words{"", "$"},
                         help{"for a job before its turn; or a share of labour instead:"}),
    at<&Shop::rush_share>("rush_share", share_of_labour, help{"of labour, instead of rush"}),
    at<&Shop::collection_fee>("collection", limits::money, words{"", "$"},
                              help{"for fetching and bringing back"}),
};

constexpr std::array discount{
    at<&Shop::discount_share>("share", limits::share_of_money, or_else{0},
                              help{"off labour, parts and consumables"}),
    at<&Shop::discount_name>("name"),
};

constexpr std::array tax{
    at<&Tax::name>("name", needed{"the name of the tax", "for instance name = \"VAT\""}),
    at<&Tax::rate>("rate", tax_rate, needed{"the rate of the tax", "for instance rate = 0.19 for 19 %"}),
    at<&Tax::included>("included", help{"prices hold it already; false: it is added to them"}),
    at<&Tax::compound>("compound", help{"true: on the amounts and on the taxes before it"}),
    unplaced(Kind::choices, "exempt", one_of{line_kinds},
             help{"labour, parts, consumables, shipping, diagnosis, rush, collection, discount"}),
};

constexpr std::array payment{
    unplaced(Kind::choice, "tax_by", one_of{tax_by}, help{"where a tax is rounded: total or line"}),
    at<&Shop::cash_step>("cash_step", limits::positive_money, words{"", "$"},
                         help{"least coin: what is paid and deposited is rounded to it"}),
    at<&Shop::deposit_share>("deposit_share", limits::share_of_money, help{"of the payable sum"}),
    at<&Shop::deposit_from>("deposit_from", limits::money, words{"", "$"}, or_else{0},
                            help{"payable sum from which a deposit is asked"}),
    at<&Shop::deposit_covers_parts>("deposit_covers_parts",
                                    help{"at least what the parts and their shipping are charged at"}),
};

constexpr std::array terms{
    at<&Shop::valid_days>("valid_days", Limits{.low = 1, .high = most_days}, words{"", "days"},
                          help{"how long the quote holds"}),
    at<&Shop::warranty_days>("warranty_days", Limits{.low = 0, .high = most_days}, words{"", "days"},
                             help{"on the work and on the parts it brought; 0: none"}),
    at<&Shop::not_to_exceed>("not_to_exceed", limits::share_of_money,
                             help{"share above the total up to which no consent is asked; or instead:"}),
    at<&Shop::ceiling_confidence>("ceiling_confidence", confidence,
                                  help{"the charge by time that holds in so many jobs"}),
    at<&Shop::no_cure_no_fee>("no_cure_no_fee",
                              help{"nothing is charged if it cannot be repaired; or instead:"}),
    at<&Shop::no_cure_charge>("no_cure_charge", limits::money, words{"", "$"},
                              help{"what is charged then; otherwise what declining costs"}),
    at<&Shop::liability>("liability", limits::money, words{"", "$"},
                         help{"paid by the shop if the device is lost on the bench"}),
    at<&Shop::terms>("text", help{"sentences for the customer"}),
};

constexpr std::array workmanship{
    at<&Shop::come_back>("come_back", chance, help{"chance that the work is complained of (range)"}),
    at<&Shop::come_back_minutes>("come_back_minutes", limits::minutes, words{"", "minutes"},
                                 help{"time that it then takes (range); otherwise an opening's"}),
};

constexpr std::array margin{
    at<&Shop::target_margin>("target", margin_share, or_else{0.3}, help{"wanted share of the income"}),
};

constexpr std::array subsidy{
    at<&Subsidy::name>("name",
                       needed{"what the subsidy is called", "for instance name = \"Repair voucher\""}),
    at<&Subsidy::share>("share", limits::share_of_money,
                        needed{"what share of the total it pays", "for instance share = 0.5"},
                        help{"of the total, tax included"}),
    at<&Subsidy::cap>("cap", limits::positive_money, words{"", "$"}, help{"greatest sum"}),
    at<&Subsidy::registered>("registered", help{"true: the shop takes part, and the bill says so"}),
    at<&Subsidy::until>("until", help{"last day"}),
};

constexpr std::array whole{
    unplaced_table(Kind::table, "shop", shop),
    unplaced_table(Kind::table, "writing", writing, help{"how numbers and days are written"}),
    unplaced_table(Kind::table, "labour", labour),
    table<&Shop::flat_rates>("flat_rate", flat_rate,
                             help{"a fixed price for a known job, in place of its labour"}),
    unplaced_table(Kind::table, "diagnosis", diagnosis),
    unplaced_table(Kind::table, "parts", parts),
    unplaced_table(Kind::table, "consumables", consumables,
                   help{"solder, cleaner, foil; otherwise what the case expects"}),
    unplaced_table(Kind::table, "fees", fees),
    unplaced_table(Kind::table, "discount", discount),
    table<&Shop::taxes>("tax", tax,
                        help{"one after the other, in the order in which they build on each other"}),
    unplaced_table(Kind::table, "payment", payment),
    unplaced_table(Kind::table, "terms", terms),
    unplaced_table(Kind::table, "workmanship", workmanship, help{"for the shop's eyes only"}),
    unplaced_table(Kind::table, "margin", margin, help{"for the shop's eyes only"}),
    table<&Shop::subsidy>("subsidy", subsidy, help{"paid to the shop by somebody else for the customer"}),
};

}  // namespace

}  // namespace shop_rows

std::span<const Input> shop_inputs() { return shop_rows::whole; }

}  // namespace mendworth
