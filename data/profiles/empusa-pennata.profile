# SPDX-License-Identifier: GPL-3.0-or-later
# Conehead mantis.
# Stages are moults since hatch; days are at 25 °C. Format and tags: see DEVELOPERS.md.

[profile]
scientific=Empusa pennata
common=conehead mantis
common_de=Haubenfangschrecke
group=dry-hot
empusid=true
flying_prey_only=true
communal=true
dry_kind=true
winter_rest=true
winter_rest.from=practice
winter_rest.note=Nymphs rest at about 20 °C under short light; refusing is normal then.
winter_rest.note_de=Nymphen ruhen bei etwa 20 °C und kurzem Licht; Verweigern ist dann normal.

[clock]
t0=12
t0.from=ours
topt=32
topt.from=ours
tflat=35
tflat.from=ours
tmax=43
tmax.from=ours

[development]
stage_days=13;14;16;19;23;27
stage_days.from=ours
stage_days.note=At 25 °C and long light; the winter rest is not in it. No table was at hand.
stage_days.note_de=Bei 25 °C und langem Licht; die Winterruhe ist nicht darin. Es lag keine Tafel vor.
before_subadult_days=28
before_subadult_days.from=ours
subadult_days=34
subadult_days.from=practice
male_factor=1
male_factor.from=ours
moults_male=6:.60;7:.40
moults_male.from=ours
moults_male.note=No count was at hand; the violin mantis is said to take six and seven.
moults_male.note_de=Es lag keine Zählung vor; für die Wandelnde Geige werden sechs und sieben genannt.
moults_female=6:.25;7:.60;8:.15
moults_female.from=ours
moults_female.note=No count was at hand; the violin mantis is said to take six and seven.
moults_female.note_de=Es lag keine Zählung vor; für die Wandelnde Geige werden sechs und sieben genannt.
sd_room=.18
sd_room.from=ours
sd_lot=.10
sd_lot.from=ours
sd_animal=.10
sd_animal.from=ours
sd_stage=.19
sd_stage.from=ours

[size]
adult_male_mm=60
adult_male_mm.from=practice
adult_female_mm=70
adult_female_mm.from=practice
ratio_body=1.29
ratio_body.from=measured:faber
ratio_head=1.20
ratio_head.from=ours

[sex]
male_prior=.5
male_prior.from=ours
readable_from=3
readable_from.from=practice
plates_male=8
plates_male.from=practice
plates_female=6
plates_female.from=practice
appendages_male=6
appendages_male.from=practice
appendages_male.note=Belly appendages: one more in males.
appendages_male.note_de=Anhänge am Bauch: bei Männchen einer mehr.
appendages_female=5
appendages_female.from=practice
tegmen_pronotum_male=2.55;.20
tegmen_pronotum_male.from=ours
tegmen_pronotum_female=2.0;.25
tegmen_pronotum_female.from=ours

[care]
feed_m0_1=1;2
feed_m0_1.from=practice
feed_m2_3=1;2
feed_m2_3.from=practice
feed_m4=2;3
feed_m4.from=practice
feed_adult_female=2;3
feed_adult_female.from=practice
feed_adult_male=2;3
feed_adult_male.from=practice
feed_gravid=1;2
feed_gravid.from=practice
mist=3;7
mist.from=practice
clean=7;8
clean.from=practice
touch_m3=1
touch_m3.from=practice
touch_m4=2
touch_m4.from=practice
touch_subadult=4
touch_subadult.from=practice
touch_adult=7
touch_adult.from=practice
food_m3=1;1
food_m3.from=practice
food_m4=1;1
food_m4.from=practice
food_subadult=2;2
food_subadult.from=practice
food_adult=3;3
food_adult.from=practice
subadult_fast_days=10
subadult_fast_days.from=practice
split_moults=-1
split_moults.from=practice
split_moults.note=They bear company.
split_moults.note_de=Sie vertragen Gesellschaft.
prey_nymph=.5
prey_nymph.from=practice
prey_adult=1
prey_adult.from=practice

[climate]
day=26;30
day.from=practice
night=18;22
night.from=practice
spot=32;38
spot.from=practice
look_above=40
look_above.from=practice
look_below=12
look_below.from=practice
humidity=30;50
humidity.from=practice

[adult]
receptive_male=10;40
receptive_male.from=practice
receptive_female=14;35
receptive_female.from=practice
life_male=30;90
life_male.from=practice
life_female=90;240
life_female.from=practice

[eggs]
incubation=21;42
incubation.from=practice
young=35;45
young.from=practice
guards=false
rest=false

[cue antennae]
says=either
odds=50
odds.from=ours
from_moults=0
from_moults.from=practice
from_moults.note=Feathered in adult males, thread-like in females; thick against hair-thin already in nymphs.
from_moults.note_de=Bei erwachsenen Männchen gefiedert, bei Weibchen fadenförmig; schon bei Nymphen dick gegen haardünn.
adult_only=true

[sources]
faber=Faber 1994, J. Zool. (London), doi 10.1111/j.1469-7998.1994.tb01568.x: mean length ratio between successive instars of mantises 1.29 (an average over mantises, not of this species)
