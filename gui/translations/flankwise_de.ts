<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="de" sourcelanguage="en">
<context>
    <name>Alike</name>
    <message>
        <source>Most like the part on the bench</source>
        <translation>Dem Teil auf dem Messplatz am ähnlichsten</translation>
    </message>
    <message>
        <source>Close</source>
        <translation>Schließen</translation>
    </message>
    <message>
        <source>Close the list of parts like it</source>
        <translation>Die Liste der ähnlichen Teile schließen</translation>
    </message>
    <message>
        <source>can be the same thread</source>
        <translation>kann dasselbe Gewinde sein</translation>
    </message>
    <message>
        <source>not the same thread</source>
        <translation>nicht dasselbe Gewinde</translation>
    </message>
    <message>
        <source>part {number}: {verdict}
pitch diameter {difference} ± {u95}</source>
        <translation>Teil {number}: {verdict}
Flankendurchmesser {difference} ± {u95}</translation>
    </message>
</context>
<context>
    <name>BenchInForce</name>
    <message>
        <source>No bench is in force. Until there is one, pictures can be looked at but not measured. Calibrate with gauge pins, open a calibration that you have, or give a scale by hand.</source>
        <translation>Kein Messplatz ist in Kraft. Bis dahin lassen sich Bilder ansehen, aber nicht messen. Kalibrieren Sie mit Prüfstiften, öffnen Sie eine vorhandene Kalibrierung, oder geben Sie einen Maßstab von Hand an.</translation>
    </message>
    <message>
        <source>Calibrate (G)</source>
        <translation>Kalibrieren (G)</translation>
    </message>
    <message>
        <source>Verify (V)</source>
        <translation>Nachprüfen (V)</translation>
    </message>
    <message>
        <source>By hand…</source>
        <translation>Von Hand…</translation>
    </message>
    <message>
        <source>Give a scale by hand, without gauges</source>
        <translation>Einen Maßstab von Hand angeben, ohne Normale</translation>
    </message>
    <message>
        <source>Open…</source>
        <translation>Öffnen…</translation>
    </message>
    <message>
        <source>Open a calibration file</source>
        <translation>Eine Kalibrierdatei öffnen</translation>
    </message>
    <message>
        <source>Bench in force</source>
        <translation>Messplatz in Kraft</translation>
    </message>
    <message>
        <source>Sample calibration: for the pictures of the tour alone. It goes when the tour ends.</source>
        <translation>Beispielkalibrierung: nur für die Bilder des Rundgangs. Sie verschwindet, wenn der Rundgang endet.</translation>
    </message>
    <message>
        <source>Given by hand: no gauge stands behind it.</source>
        <translation>Von Hand angegeben: Kein Normal steht dahinter.</translation>
    </message>
    <message>
        <source>Calibrated {when}.</source>
        <translation>Kalibriert {when}.</translation>
    </message>
    <message>
        <source>it held</source>
        <translation>er stimmte</translation>
    </message>
    <message>
        <source>it did not hold</source>
        <translation>er stimmte nicht</translation>
    </message>
    <message>
        <source>Calibrated {when}, verified {then}: {outcome}.</source>
        <translation>Kalibriert {when}, nachgeprüft {then}: {outcome}.</translation>
    </message>
    <message>
        <source>today</source>
        <translation>heute</translation>
    </message>
    <message>
        <source>yesterday</source>
        <translation>gestern</translation>
    </message>
    <message>
        <source>{days} days ago</source>
        <translation>vor {days} Tagen</translation>
    </message>
    <message>
        <source>The live picture has {width} × {height} pixels, the calibration is for {w} × {h}: nothing can be measured in it. Choose that size, or calibrate for this one.</source>
        <translation>Das lebende Bild hat {width} × {height} Pixel, die Kalibrierung gilt für {w} × {h}: Darin lässt sich nichts messen. Wählen Sie diese Größe, oder kalibrieren Sie für diese.</translation>
    </message>
</context>
<context>
    <name>BenchPlace</name>
    <message>
        <source>Live picture</source>
        <translation>Lebendes Bild</translation>
    </message>
    <message>
        <source>Take a picture</source>
        <translation>Ein Bild aufnehmen</translation>
    </message>
    <message>
        <source>Pause, or go on</source>
        <translation>Anhalten oder weitergehen</translation>
    </message>
    <message>
        <source>Reconnect, or play again</source>
        <translation>Neu verbinden oder noch einmal abspielen</translation>
    </message>
    <message>
        <source>Show what the first camera sees</source>
        <translation>Zeigen, was die erste Kamera sieht</translation>
    </message>
    <message>
        <source>Play a video</source>
        <translation>Ein Video abspielen</translation>
    </message>
    <message>
        <source>Watch a folder</source>
        <translation>Einen Ordner beobachten</translation>
    </message>
    <message>
        <source>Calibrate with gauges</source>
        <translation>Mit Normalen kalibrieren</translation>
    </message>
    <message>
        <source>Verify with a pin</source>
        <translation>Mit einem Stift nachprüfen</translation>
    </message>
    <message>
        <source>Give a scale by hand</source>
        <translation>Einen Maßstab von Hand angeben</translation>
    </message>
    <message>
        <source>Back to the bench in force</source>
        <translation>Zurück zum Messplatz in Kraft</translation>
    </message>
    <message>
        <source>There is no live picture to take. Choose a camera or a video above.</source>
        <translation>Es gibt kein lebendes Bild zum Aufnehmen. Wählen Sie oben eine Kamera oder ein Video.</translation>
    </message>
    <message>
        <source>No camera is found. Plug one in and look again.</source>
        <translation>Keine Kamera gefunden. Stecken Sie eine an und sehen Sie noch einmal nach.</translation>
    </message>
    <message>
        <source>looking for cameras</source>
        <translation>Kameras werden gesucht</translation>
    </message>
    <message>
        <source>Open a calibration</source>
        <translation>Eine Kalibrierung öffnen</translation>
    </message>
    <message>
        <source>Calibrations</source>
        <translation>Kalibrierungen</translation>
    </message>
    <message>
        <source>{name}: no picture comes any more</source>
        <translation>{name}: Es kommt kein Bild mehr</translation>
    </message>
    <message>
        <source>The next picture that comes into this folder is measured:
{name}</source>
        <translation>Das nächste Bild, das in diesen Ordner kommt, wird gemessen:
{name}</translation>
    </message>
    <message>
        <source>No live picture.

Choose a camera above, or open a picture (Ctrl+O), drop one here or paste it (Ctrl+V).</source>
        <translation>Kein lebendes Bild.

Wählen Sie oben eine Kamera, oder öffnen Sie ein Bild (Strg+O), legen Sie eines hier ab oder fügen Sie es ein (Strg+V).</translation>
    </message>
    <message>
        <source>The last picture: {name}</source>
        <translation>Das letzte Bild: {name}</translation>
    </message>
    <message>
        <source>showing the picture</source>
        <translation>Das Bild wird gezeigt</translation>
    </message>
</context>
<context>
    <name>BudgetTable</name>
    <message>
        <source>Quantity whose budget is shown</source>
        <translation>Größe, deren Budget gezeigt wird</translation>
    </message>
    <message>
        <source>source</source>
        <translation>Quelle</translation>
    </message>
    <message>
        <source>standard uncertainty</source>
        <translation>Standardunsicherheit</translation>
    </message>
    <message>
        <source>share</source>
        <translation>Anteil</translation>
    </message>
    <message>
        <source>Uncertainty budget</source>
        <translation>Unsicherheitsbudget</translation>
    </message>
    <message>
        <source>full bound, one side</source>
        <translation>volle Schranke, eine Seite</translation>
    </message>
</context>
<context>
    <name>CalibrationTask</name>
    <message>
        <source>1  Lay down gauges</source>
        <translation>1  Normale auflegen</translation>
    </message>
    <message>
        <source>Two pins of clearly different diameter tell the scale and the edge offset apart. All in the plane in which the parts&apos; axes will lie, nothing moved between.</source>
        <translation>Zwei Stifte deutlich verschiedener Durchmesser trennen Maßstab und Kantenversatz. Alle in der Ebene, in der die Achsen der Teile liegen werden, nichts dazwischen bewegt.</translation>
    </message>
    <message>
        <source>+ Pin</source>
        <translation>+ Stift</translation>
    </message>
    <message>
        <source>+ Micrometer</source>
        <translation>+ Maßstab</translation>
    </message>
    <message>
        <source>+ Grid</source>
        <translation>+ Gitter</translation>
    </message>
    <message>
        <source>2  Light and lens</source>
        <translation>2  Licht und Objektiv</translation>
    </message>
    <message>
        <source>3  Calibrate</source>
        <translation>3  Kalibrieren</translation>
    </message>
    <message>
        <source>Calibrate</source>
        <translation>Kalibrieren</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>Other file…</source>
        <translation>Andere Datei…</translation>
    </message>
    <message>
        <source>Save and put in force</source>
        <translation>Sichern und in Kraft setzen</translation>
    </message>
    <message>
        <source>Lay down at least one gauge: type its size and take its picture.</source>
        <translation>Legen Sie mindestens ein Normal auf: Geben Sie sein Maß ein und nehmen Sie sein Bild auf.</translation>
    </message>
    <message>
        <source>Size or picture of a gauge is missing ({name}).</source>
        <translation>Maß oder Bild eines Normals fehlt ({name}).</translation>
    </message>
    <message>
        <source>Missing: {what}.</source>
        <translation>Es fehlt: {what}.</translation>
    </message>
    <message>
        <source>calibrating the bench</source>
        <translation>Der Messplatz wird kalibriert</translation>
    </message>
    <message>
        <source>Save the calibration</source>
        <translation>Die Kalibrierung sichern</translation>
    </message>
    <message>
        <source>Calibrations</source>
        <translation>Kalibrierungen</translation>
    </message>
    <message>
        <source>The new calibration is in force, kept as {name}.</source>
        <translation>Die neue Kalibrierung ist in Kraft, gesichert als {name}.</translation>
    </message>
    <message>
        <source>saving the bench</source>
        <translation>Der Messplatz wird gesichert</translation>
    </message>
</context>
<context>
    <name>Cards</name>
    <message>
        <source>Tray: pictures that arrived</source>
        <translation>Eingang: eingetroffene Bilder</translation>
    </message>
</context>
<context>
    <name>CheckView</name>
    <message>
        <source>class, such as 4-40 NC-3; empty: the original</source>
        <translation>Klasse wie 4-40 NC-3; leer: das Original</translation>
    </message>
    <message>
        <source>Class that the replacement is held against</source>
        <translation>Klasse, an der der Ersatz gemessen wird</translation>
    </message>
    <message>
        <source>Micrometer reading over three wires</source>
        <translation>Ablesung der Messschraube über drei Drähte</translation>
    </message>
    <message>
        <source>over wires, 3.021mm</source>
        <translation>über Drähte, 3.021mm</translation>
    </message>
    <message>
        <source>wire, 0.455mm</source>
        <translation>Draht, 0.455mm</translation>
    </message>
    <message>
        <source>With its U95 if you know it: {example}</source>
        <translation>Mit seiner U95, wenn Sie sie kennen: {example}</translation>
    </message>
    <message>
        <source>Diameter of the wires</source>
        <translation>Durchmesser der Drähte</translation>
    </message>
    <message>
        <source>Check</source>
        <translation>Prüfen</translation>
    </message>
    <message>
        <source>the reading over wires</source>
        <translation>die Ablesung über Drähte</translation>
    </message>
    <message>
        <source>the wire</source>
        <translation>der Draht</translation>
    </message>
    <message>
        <source>Type a class, or lay an original beside the replacement.</source>
        <translation>Geben Sie eine Klasse ein, oder legen Sie ein Original neben den Ersatz.</translation>
    </message>
    <message>
        <source>Errors of pitch count over {engaged} of engagement. A limit is kept if it is cleared by U95, broken if it is passed by 1.3 U95 (ISO 14253-1); five limits may break, and a good part shall not fail by bad luck.</source>
        <translation>Steigungsfehler zählen über {engaged} Einschraublänge. Eine Grenze ist eingehalten, wenn U95 Abstand bleibt, verletzt, wenn sie um 1,3 U95 überschritten ist (ISO 14253-1); fünf Grenzen können brechen, und ein gutes Teil soll nicht durch Pech durchfallen.</translation>
    </message>
    <message>
        <source>pitch diameter by the picture {picture}, over wires {wires}, both together {both}{trouble}</source>
        <translation>Flankendurchmesser nach dem Bild {picture}, über Drähte {wires}, beides zusammen {both}{trouble}</translation>
    </message>
    <message>
        <source>; they disagree: look for dirt, a burr, a wrong wire</source>
        <translation>; sie widersprechen sich: Suchen Sie nach Schmutz, einem Grat, einem falschen Draht</translation>
    </message>
</context>
<context>
    <name>CompareView</name>
    <message>
        <source>Original and replacement laid over each other</source>
        <translation>Original und Ersatz übereinandergelegt</translation>
    </message>
    <message>
        <source>original</source>
        <translation>Original</translation>
    </message>
    <message>
        <source>replacement</source>
        <translation>Ersatz</translation>
    </message>
    <message>
        <source>difference</source>
        <translation>Unterschied</translation>
    </message>
    <message>
        <source>beyond
chance</source>
        <translation>mehr als
Zufall</translation>
    </message>
    <message>
        <source>Differences</source>
        <translation>Unterschiede</translation>
    </message>
    <message>
        <source>Lay an original and a replacement into their slots.</source>
        <translation>Legen Sie ein Original und einen Ersatz in ihre Felder.</translation>
    </message>
    <message>
        <source>yes</source>
        <translation>ja</translation>
    </message>
    <message>
        <source>Scale, edge offset, temperature and light are those of one bench and fall out.</source>
        <translation>Maßstab, Kantenversatz, Temperatur und Licht sind die eines Messplatzes und fallen heraus.</translation>
    </message>
    <message>
        <source>The two come from benches calibrated apart: nothing falls out of the differences.</source>
        <translation>Die beiden stammen von getrennt kalibrierten Messplätzen: Aus den Unterschieden fällt nichts heraus.</translation>
    </message>
    <message>
        <source>Of one of the two only the sizes on file are known: what both have in common does not fall out of the differences.</source>
        <translation>Von einem der beiden sind nur die Maße in der Ablage bekannt: Was beide gemeinsam haben, fällt aus den Unterschieden nicht heraus.</translation>
    </message>
    <message>
        <source>Beyond chance: more than {times:.1f} u off zero, which two equal parts show in 5 % of cases.</source>
        <translation>Mehr als Zufall: über {times:.1f} u von null, was zwei gleiche Teile in 5 % der Fälle zeigen.</translation>
    </message>
    <message>
        <source>Which way the parts point is not in view: left and right of the replacement are exchanged.</source>
        <translation>Wohin die Teile zeigen, ist nicht im Bild: Links und rechts des Ersatzes sind vertauscht.</translation>
    </message>
    <message>
        <source>pitch diameter {difference}: beyond chance</source>
        <translation>Flankendurchmesser {difference}: mehr als Zufall</translation>
    </message>
    <message>
        <source>pitch diameter {difference}: no more than chance</source>
        <translation>Flankendurchmesser {difference}: nicht mehr als Zufall</translation>
    </message>
</context>
<context>
    <name>Desk</name>
    <message>
        <source>reading the bench</source>
        <translation>Der Messplatz wird gelesen</translation>
    </message>
    <message>
        <source>{name} is in the tray already.</source>
        <translation>{name} liegt schon im Eingang.</translation>
    </message>
</context>
<context>
    <name>Facts</name>
    <message>
        <source>Scale</source>
        <translation>Maßstab</translation>
    </message>
    <message>
        <source>Gauges: residual and U95</source>
        <translation>Normale: Rest und U95</translation>
    </message>
    <message>
        <source>Nothing is left over by which these gauges could check each other: one more would.</source>
        <translation>Nichts bleibt übrig, woran diese Normale einander prüfen könnten: Eines mehr täte es.</translation>
    </message>
    <message>
        <source>Warnings</source>
        <translation>Warnungen</translation>
    </message>
    <message>
        <source>Edge offset</source>
        <translation>Kantenversatz</translation>
    </message>
    <message>
        <source>Light cone</source>
        <translation>Lichtkegel</translation>
    </message>
    <message>
        <source>Lens</source>
        <translation>Objektiv</translation>
    </message>
    <message>
        <source>Pictures</source>
        <translation>Bilder</translation>
    </message>
    <message>
        <source>One pixel is</source>
        <translation>Ein Pixel ist</translation>
    </message>
    <message>
        <source>not known</source>
        <translation>nicht bekannt</translation>
    </message>
    <message>
        <source>{cone}, found from the gauges</source>
        <translation>{cone}, aus den Normalen gefunden</translation>
    </message>
    <message>
        <source>Warning: {what}</source>
        <translation>Warnung: {what}</translation>
    </message>
    <message>
        <source>distortion taken out ({shift} px in the corners)</source>
        <translation>Verzeichnung herausgerechnet ({shift} px in den Ecken)</translation>
    </message>
    <message>
        <source>no distortion taken out</source>
        <translation>keine Verzeichnung herausgerechnet</translation>
    </message>
</context>
<context>
    <name>FilingQueue</name>
    <message>
        <source>It was not filed.</source>
        <translation>Es kam nicht ins Register.</translation>
    </message>
    <message>
        <source>filing {name}</source>
        <translation>{name} wird abgelegt</translation>
    </message>
</context>
<context>
    <name>Filters</name>
    <message>
        <source>any</source>
        <translation>beliebig</translation>
    </message>
    <message>
        <source>withdrawn ones too</source>
        <translation>auch zurückgezogene</translation>
    </message>
    <message>
        <source>pitch diameter from</source>
        <translation>Flankendurchmesser von</translation>
    </message>
    <message>
        <source>to</source>
        <translation>bis</translation>
    </message>
    <message>
        <source>made after</source>
        <translation>gebaut nach</translation>
    </message>
    <message>
        <source>made before</source>
        <translation>gebaut vor</translation>
    </message>
    <message>
        <source>country</source>
        <translation>Land</translation>
    </message>
    <message>
        <source>series</source>
        <translation>Reihe</translation>
    </message>
    <message>
        <source>thread</source>
        <translation>Gewinde</translation>
    </message>
</context>
<context>
    <name>Findings</name>
    <message>
        <source>Findings</source>
        <translation>Befund</translation>
    </message>
    <message>
        <source>not determined</source>
        <translation>nicht bestimmt</translation>
    </message>
    <message>
        <source>{name}: limits {low} to {high}</source>
        <translation>{name}: Grenzen {low} bis {high}</translation>
    </message>
</context>
<context>
    <name>FitPlace</name>
    <message>
        <source>Laid over each other</source>
        <translation>Übereinandergelegt</translation>
    </message>
    <message>
        <source>Held to its limits</source>
        <translation>An den Grenzen gemessen</translation>
    </message>
    <message>
        <source>In the hole</source>
        <translation>Im Loch</translation>
    </message>
    <message>
        <source>Exchange</source>
        <translation>Vertauschen</translation>
    </message>
    <message>
        <source>Figure…</source>
        <translation>Abbildung…</translation>
    </message>
    <message>
        <source>Exchange original and replacement</source>
        <translation>Original und Ersatz vertauschen</translation>
    </message>
    <message>
        <source>Part on the bench as the original</source>
        <translation>Teil auf dem Messplatz als Original</translation>
    </message>
    <message>
        <source>Part on the bench as the replacement</source>
        <translation>Teil auf dem Messplatz als Ersatz</translation>
    </message>
    <message>
        <source>Say what the hole is</source>
        <translation>Sagen, was das Loch ist</translation>
    </message>
    <message>
        <source>Next view</source>
        <translation>Nächste Ansicht</translation>
    </message>
    <message>
        <source>Save a figure…</source>
        <translation>Abbildung sichern…</translation>
    </message>
    <message>
        <source>reading the tables</source>
        <translation>Die Tabellen werden gelesen</translation>
    </message>
    <message>
        <source>comparing</source>
        <translation>Es wird verglichen</translation>
    </message>
    <message>
        <source>checking</source>
        <translation>Es wird geprüft</translation>
    </message>
    <message>
        <source>putting together</source>
        <translation>Es wird zusammengesetzt</translation>
    </message>
    <message>
        <source>A figure needs the picture of the replacement, and of the original to compare it with.</source>
        <translation>Eine Abbildung braucht das Bild des Ersatzes und zum Vergleich das des Originals.</translation>
    </message>
</context>
<context>
    <name>Foot</name>
    <message>
        <source>Bench in force</source>
        <translation>Messplatz in Kraft</translation>
    </message>
    <message>
        <source>Part on the bench</source>
        <translation>Teil auf dem Messplatz</translation>
    </message>
    <message>
        <source>Unit: press to change</source>
        <translation>Einheit: drücken zum Wechseln</translation>
    </message>
    <message>
        <source>Being computed</source>
        <translation>Wird gerechnet</translation>
    </message>
    <message>
        <source>How far it is</source>
        <translation>Wie weit es ist</translation>
    </message>
    <message>
        <source>Cancel</source>
        <translation>Abbrechen</translation>
    </message>
    <message>
        <source>inches</source>
        <translation>Zoll</translation>
    </message>
    <message>
        <source>millimetres</source>
        <translation>Millimeter</translation>
    </message>
    <message>
        <source>no part on the bench</source>
        <translation>kein Teil auf dem Messplatz</translation>
    </message>
</context>
<context>
    <name>GaugeRow</name>
    <message>
        <source>Pin</source>
        <translation>Stift</translation>
    </message>
    <message>
        <source>Diameter of the pin</source>
        <translation>Durchmesser des Stifts</translation>
    </message>
    <message>
        <source>Stage micrometer</source>
        <translation>Objektmaßstab</translation>
    </message>
    <message>
        <source>Distance of its finest divisions</source>
        <translation>Abstand seiner feinsten Teilung</translation>
    </message>
    <message>
        <source>Grid</source>
        <translation>Gitter</translation>
    </message>
    <message>
        <source>Side of a square, or distance of dots</source>
        <translation>Seite eines Quadrats, oder Abstand der Punkte</translation>
    </message>
    <message>
        <source>U95 of it, from the certificate</source>
        <translation>seine U95 aus dem Prüfschein</translation>
    </message>
    <message>
        <source>Left empty, 1 µm is assumed and said so.</source>
        <translation>Bleibt es leer, wird 1 µm angenommen und das gesagt.</translation>
    </message>
    <message>
        <source>Take</source>
        <translation>Aufnehmen</translation>
    </message>
    <message>
        <source>Take its picture from the live source</source>
        <translation>Sein Bild aus der lebenden Quelle aufnehmen</translation>
    </message>
    <message>
        <source>Take the picture of this gauge</source>
        <translation>Das Bild dieses Normals aufnehmen</translation>
    </message>
    <message>
        <source>File…</source>
        <translation>Datei…</translation>
    </message>
    <message>
        <source>Picture file of this gauge</source>
        <translation>Bilddatei dieses Normals</translation>
    </message>
    <message>
        <source>Take this gauge away</source>
        <translation>Dieses Normal wegnehmen</translation>
    </message>
    <message>
        <source>What its picture says</source>
        <translation>Was sein Bild sagt</translation>
    </message>
    <message>
        <source>Type its size, then take its picture.</source>
        <translation>Geben Sie sein Maß ein, dann nehmen Sie sein Bild auf.</translation>
    </message>
    <message>
        <source>Picture of the gauge</source>
        <translation>Bild des Normals</translation>
    </message>
    <message>
        <source>Pictures</source>
        <translation>Bilder</translation>
    </message>
    <message>
        <source>Being read…</source>
        <translation>Wird gelesen…</translation>
    </message>
    <message>
        <source>reading the gauge</source>
        <translation>Das Normal wird gelesen</translation>
    </message>
    <message>
        <source>Waits for the next picture in the folder.</source>
        <translation>Wartet auf das nächste Bild im Ordner.</translation>
    </message>
    <message>
        <source>With its unit, for example {example}.</source>
        <translation>Mit Einheit, zum Beispiel {example}.</translation>
    </message>
    <message>
        <source>Now take its picture.</source>
        <translation>Jetzt sein Bild aufnehmen.</translation>
    </message>
    <message>
        <source>Read: {seen} thick.</source>
        <translation>Gelesen: {seen} dick.</translation>
    </message>
    <message>
        <source>Read: {seen} a step, {steps} steps.</source>
        <translation>Gelesen: {seen} je Schritt, {steps} Schritte.</translation>
    </message>
    <message>
        <source>Type its size.</source>
        <translation>Geben Sie sein Maß ein.</translation>
    </message>
    <message>
        <source>About {scale} µm a pixel.</source>
        <translation>Etwa {scale} µm je Pixel.</translation>
    </message>
</context>
<context>
    <name>Given</name>
    <message>
        <source>as the picture</source>
        <translation>wie das Bild</translation>
    </message>
    <message>
        <source>not known</source>
        <translation>nicht bekannt</translation>
    </message>
    <message>
        <source>1938 or 1930-1940</source>
        <translation>1938 oder 1930-1940</translation>
    </message>
    <message>
        <source>all series</source>
        <translation>alle Reihen</translation>
    </message>
    <message>
        <source>not looked</source>
        <translation>nicht nachgesehen</translation>
    </message>
    <message>
        <source>right</source>
        <translation>rechts</translation>
    </message>
    <message>
        <source>left</source>
        <translation>links</translation>
    </message>
    <message>
        <source>as seen</source>
        <translation>wie gesehen</translation>
    </message>
    <message>
        <source>the only one</source>
        <translation>das einzige</translation>
    </message>
    <message>
        <source>name</source>
        <translation>Name</translation>
    </message>
    <message>
        <source>country</source>
        <translation>Land</translation>
    </message>
    <message>
        <source>made</source>
        <translation>Baujahr</translation>
    </message>
    <message>
        <source>series</source>
        <translation>Reihe</translation>
    </message>
    <message>
        <source>hand</source>
        <translation>Drehsinn</translation>
    </message>
    <message>
        <source>starts</source>
        <translation>Gangzahl</translation>
    </message>
    <message>
        <source>part in view</source>
        <translation>Teil im Bild</translation>
    </message>
    <message>
        <source>year</source>
        <translation>Jahr</translation>
    </message>
</context>
<context>
    <name>Identity</name>
    <message>
        <source>Identity</source>
        <translation>Identität</translation>
    </message>
    <message>
        <source>no series in the tables</source>
        <translation>keine Reihe in den Tabellen</translation>
    </message>
    <message>
        <source>{mark} limits or sizes from memory, not checked against the printed standard</source>
        <translation>{mark} Grenzen oder Maße aus dem Gedächtnis, nicht an der gedruckten Norm geprüft</translation>
    </message>
    <message>
        <source>(outside its limits)</source>
        <translation>(außerhalb seiner Grenzen)</translation>
    </message>
    <message>
        <source>by measurement alone {share}; {why}</source>
        <translation>nach der Messung allein {share}; {why}</translation>
    </message>
    <message>
        <source>told apart by</source>
        <translation>unterschieden durch</translation>
    </message>
    <message>
        <source>pitch diameter in the zone of each class</source>
        <translation>Flankendurchmesser in der Toleranz jeder Klasse</translation>
    </message>
</context>
<context>
    <name>KeyList</name>
    <message>
        <source>List of keys</source>
        <translation>Liste der Tasten</translation>
    </message>
    <message>
        <source>Keys</source>
        <translation>Tasten</translation>
    </message>
    <message>
        <source>Close</source>
        <translation>Schließen</translation>
    </message>
</context>
<context>
    <name>Leaving</name>
    <message>
        <source>Stay</source>
        <translation>Hier bleiben</translation>
    </message>
    <message>
        <source>One picture in the tray is not on file.</source>
        <translation>Ein Bild im Eingang ist noch nicht im Register.</translation>
    </message>
    <message>
        <source>{count} pictures in the tray are not on file.</source>
        <translation>{count} Bilder im Eingang sind noch nicht im Register.</translation>
    </message>
    <message>
        <source>Keep for next time</source>
        <translation>Bis zum nächsten Mal behalten</translation>
    </message>
    <message>
        <source>Quit without them</source>
        <translation>Ohne sie beenden</translation>
    </message>
</context>
<context>
    <name>Legend</name>
    <message>
        <source>What the lines mean</source>
        <translation>Was die Linien bedeuten</translation>
    </message>
</context>
<context>
    <name>LightForm</name>
    <message>
        <source>not known</source>
        <translation>nicht bekannt</translation>
    </message>
    <message>
        <source>half angle</source>
        <translation>halber Winkel</translation>
    </message>
    <message>
        <source>bright patch and its distance</source>
        <translation>heller Fleck und sein Abstand</translation>
    </message>
    <message>
        <source>What is known of the light</source>
        <translation>Was vom Licht bekannt ist</translation>
    </message>
    <message>
        <source>Half angle under which the part sees the light</source>
        <translation>Halber Winkel, unter dem das Teil das Licht sieht</translation>
    </message>
    <message>
        <source>Diameter of the bright patch</source>
        <translation>Durchmesser des hellen Flecks</translation>
    </message>
    <message>
        <source>How far the patch is behind the part</source>
        <translation>Wie weit der Fleck hinter dem Teil ist</translation>
    </message>
    <message>
        <source>not said</source>
        <translation>nicht gesagt</translation>
    </message>
    <message>
        <source>telecentric</source>
        <translation>telezentrisch</translation>
    </message>
    <message>
        <source>at a distance from the gauges</source>
        <translation>in einem Abstand von den Normalen</translation>
    </message>
    <message>
        <source>What is known of the lens</source>
        <translation>Was vom Objektiv bekannt ist</translation>
    </message>
    <message>
        <source>Distance from lens to gauges</source>
        <translation>Abstand vom Objektiv zu den Normalen</translation>
    </message>
    <message>
        <source>Light cone</source>
        <translation>Lichtkegel</translation>
    </message>
    <message>
        <source>Half angle</source>
        <translation>Halber Winkel</translation>
    </message>
    <message>
        <source>Patch</source>
        <translation>Fleck</translation>
    </message>
    <message>
        <source>Behind the part</source>
        <translation>Hinter dem Teil</translation>
    </message>
    <message>
        <source>Lens</source>
        <translation>Objektiv</translation>
    </message>
    <message>
        <source>Distance</source>
        <translation>Abstand</translation>
    </message>
    <message>
        <source>Not known: up to {cone}° is allowed for, and the U95 of a polished thread of {size} mm is wider by {taken} µm. Mask the pad to a small patch far behind the part, and say so here.</source>
        <translation>Nicht bekannt: Mit bis zu {cone}° wird gerechnet, und die U95 eines blanken Gewindes von {size} mm ist um {taken} µm größer. Decken Sie die Fläche bis auf einen kleinen Fleck weit hinter dem Teil ab, und geben Sie ihn hier an.</translation>
    </message>
    <message>
        <source>Half cone {cone}°: mirrored light takes {taken} µm from a polished thread of {size} mm. It is put right; ± {u95} µm of U95 remain.</source>
        <translation>Halber Kegel {cone}°: Gespiegeltes Licht nimmt {taken} µm von einem blanken Gewinde von {size} mm. Das wird berichtigt; ± {u95} µm U95 bleiben.</translation>
    </message>
</context>
<context>
    <name>LimitBar</name>
    <message>
        <source>Place between the limits</source>
        <translation>Lage zwischen den Grenzen</translation>
    </message>
</context>
<context>
    <name>Looseness</name>
    <message>
        <source>The screw in its hole</source>
        <translation>Die Schraube in ihrem Loch</translation>
    </message>
</context>
<context>
    <name>Measuring</name>
    <message>
        <source>Its measurement was given up: choose it again.</source>
        <translation>Die Messung wurde abgebrochen: Bild noch einmal wählen.</translation>
    </message>
    <message>
        <source>weighing the series</source>
        <translation>Die Reihen werden abgewogen</translation>
    </message>
    <message>
        <source>measuring {name}</source>
        <translation>{name} wird gemessen</translation>
    </message>
    <message>
        <source>showing the picture</source>
        <translation>Das Bild wird gezeigt</translation>
    </message>
</context>
<context>
    <name>Notice</name>
    <message>
        <source>Message</source>
        <translation>Meldung</translation>
    </message>
    <message>
        <source>Close</source>
        <translation>Schließen</translation>
    </message>
    <message>
        <source>Close the message</source>
        <translation>Die Meldung schließen</translation>
    </message>
    <message>
        <source>Warning</source>
        <translation>Warnung</translation>
    </message>
    <message>
        <source>Refused</source>
        <translation>Abgelehnt</translation>
    </message>
</context>
<context>
    <name>Paper</name>
    <message>
        <source>Job whose report is made</source>
        <translation>Auftrag, dessen Bericht gemacht wird</translation>
    </message>
    <message>
        <source>Paper</source>
        <translation>Papier</translation>
    </message>
    <message>
        <source>Preview of the report</source>
        <translation>Vorschau des Berichts</translation>
    </message>
    <message>
        <source>Preview</source>
        <translation>Vorschau</translation>
    </message>
    <message>
        <source>Print…</source>
        <translation>Drucken…</translation>
    </message>
    <message>
        <source>Export…</source>
        <translation>Ausgeben…</translation>
    </message>
    <message>
        <source>Import…</source>
        <translation>Einlesen…</translation>
    </message>
    <message>
        <source>Back up…</source>
        <translation>Sichern…</translation>
    </message>
    <message>
        <source>Verify</source>
        <translation>Durchsehen</translation>
    </message>
    <message>
        <source>job</source>
        <translation>Auftrag</translation>
    </message>
    <message>
        <source>page {number} of {count}</source>
        <translation>Seite {number} von {count}</translation>
    </message>
    <message>
        <source>making the report</source>
        <translation>Der Bericht wird gemacht</translation>
    </message>
    <message>
        <source>{count} pages went to the printer.</source>
        <translation>{count} Seiten gingen an den Drucker.</translation>
    </message>
    <message>
        <source>Bundle, table, document</source>
        <translation>Bündel, Tabelle, Dokument</translation>
    </message>
    <message>
        <source>Export</source>
        <translation>Ausgeben</translation>
    </message>
    <message>
        <source>Unit of the report</source>
        <translation>Einheit des Berichts</translation>
    </message>
    <message>
        <source>What is exported</source>
        <translation>Was ausgegeben wird</translation>
    </message>
    <message>
        <source>this job</source>
        <translation>dieser Auftrag</translation>
    </message>
    <message>
        <source>everything</source>
        <translation>alles</translation>
    </message>
    <message>
        <source>Save…</source>
        <translation>Sichern…</translation>
    </message>
    <message>
        <source>parts of</source>
        <translation>Teile von</translation>
    </message>
    <message>
        <source>“Preview” shows the pages here as they will be printed.</source>
        <translation>„Vorschau“ zeigt hier die Seiten, wie sie gedruckt werden.</translation>
    </message>
    <message>
        <source>A report is made of a job. Name one in the strip when you file a part.</source>
        <translation>Ein Bericht wird von einem Auftrag gemacht. Nennen Sie einen im Streifen, wenn Sie ein Teil ablegen.</translation>
    </message>
    <message>
        <source>PDF</source>
        <translation>PDF</translation>
    </message>
    <message>
        <source>Web page</source>
        <translation>Webseite</translation>
    </message>
    <message>
        <source>Save the report</source>
        <translation>Den Bericht sichern</translation>
    </message>
    <message>
        <source>The report of {count} parts is in {path}.</source>
        <translation>Der Bericht über {count} Teile liegt in {path}.</translation>
    </message>
    <message>
        <source>No type on this machine has these letters, their codes stand for them: {letters}</source>
        <translation>Keine Schrift auf diesem Rechner hat diese Zeichen, ihre Nummern stehen für sie: {letters}</translation>
    </message>
    <message>
        <source>Bundle with pictures</source>
        <translation>Bündel mit Bildern</translation>
    </message>
    <message>
        <source>Table</source>
        <translation>Tabelle</translation>
    </message>
    <message>
        <source>Document</source>
        <translation>Dokument</translation>
    </message>
    <message>
        <source>{name}: the ending says what is written: .zip, .csv or .json.</source>
        <translation>{name}: Die Endung sagt, was geschrieben wird: .zip, .csv oder .json.</translation>
    </message>
    <message>
        <source>{count} parts are in {path}.</source>
        <translation>{count} Teile liegen in {path}.</translation>
    </message>
    <message>
        <source>exporting</source>
        <translation>Es wird ausgegeben</translation>
    </message>
    <message>
        <source>Import</source>
        <translation>Einlesen</translation>
    </message>
    <message>
        <source>{count} parts were taken in from {path}.</source>
        <translation>{count} Teile wurden aus {path} aufgenommen.</translation>
    </message>
    <message>
        <source>importing</source>
        <translation>Es wird eingelesen</translation>
    </message>
    <message>
        <source>A folder for the backup: empty, or with an earlier one</source>
        <translation>Ein Ordner für die Sicherung: leer oder mit einer früheren</translation>
    </message>
    <message>
        <source>The backup is in {path}.</source>
        <translation>Die Sicherung liegt in {path}.</translation>
    </message>
    <message>
        <source>backing up</source>
        <translation>Es wird gesichert</translation>
    </message>
    <message>
        <source>The register is sound: rows, references and pictures.</source>
        <translation>Die Kartei ist in Ordnung: Zeilen, Verweise und Bilder.</translation>
    </message>
    <message>
        <source>looking at the register</source>
        <translation>Die Kartei wird durchgesehen</translation>
    </message>
</context>
<context>
    <name>PartPanel</name>
    <message>
        <source>Lay it on the bench</source>
        <translation>Auf den Messplatz legen</translation>
    </message>
    <message>
        <source>Original in Fit</source>
        <translation>Original in Passung</translation>
    </message>
    <message>
        <source>Withdraw</source>
        <translation>Zurückziehen</translation>
    </message>
    <message>
        <source>reading the picture</source>
        <translation>Das Bild wird gelesen</translation>
    </message>
    <message>
        <source>Bring it back</source>
        <translation>Zurückholen</translation>
    </message>
    <message>
        <source>Measured by the bench that it was filed with, not by the one in force.</source>
        <translation>Gemessen mit dem Messplatz, mit dem es abgelegt wurde, nicht mit dem geltenden.</translation>
    </message>
    <message>
        <source>reading the bench</source>
        <translation>Der Messplatz wird gelesen</translation>
    </message>
    <message>
        <source>another name</source>
        <translation>ein anderer Name</translation>
    </message>
    <message>
        <source>On which instrument is that position?</source>
        <translation>An welchem Instrument ist diese Stelle?</translation>
    </message>
    <message>
        <source>belongs elsewhere</source>
        <translation>gehört woanders hin</translation>
    </message>
    <message>
        <source>reading part {number}</source>
        <translation>Teil {number} wird gelesen</translation>
    </message>
    <message>
        <source>Choose a part</source>
        <translation>Wählen Sie ein Teil</translation>
    </message>
    <message>
        <source>part {number}</source>
        <translation>Teil {number}</translation>
    </message>
    <message>
        <source>It was not measured.</source>
        <translation>Es wurde nicht gemessen.</translation>
    </message>
    <message>
        <source>part withdrawn</source>
        <translation>Teil zurückgezogen</translation>
    </message>
    <message>
        <source>part brought back</source>
        <translation>Teil zurückgeholt</translation>
    </message>
    <message>
        <source>note</source>
        <translation>Notiz</translation>
    </message>
    <message>
        <source>replacement made</source>
        <translation>Ersatz gemacht</translation>
    </message>
</context>
<context>
    <name>PartPicture</name>
    <message>
        <source>End of the threaded length: drag it</source>
        <translation>Ende der Gewindelänge: ziehen Sie es</translation>
    </message>
</context>
<context>
    <name>PartPlace</name>
    <message>
        <source>Picture of the part</source>
        <translation>Bild des Teils</translation>
    </message>
    <message>
        <source>end of the thread</source>
        <translation>Ende des Gewindes</translation>
    </message>
    <message>
        <source>Every ridge folded onto one</source>
        <translation>Alle Gänge auf einen gefaltet</translation>
    </message>
    <message>
        <source>Why numbers are doubtful</source>
        <translation>Warum Zahlen zweifelhaft sind</translation>
    </message>
    <message>
        <source>No part on the bench. Open a picture (Ctrl+O), drop one here, or take one at the bench (Ctrl+1).</source>
        <translation>Kein Teil auf dem Messplatz. Öffnen Sie ein Bild (Strg+O), legen Sie eines hier ab, oder nehmen Sie eines am Messplatz auf (Strg+1).</translation>
    </message>
    <message>
        <source>One thread</source>
        <translation>Ein Gang</translation>
    </message>
    <message>
        <source>Thread by thread</source>
        <translation>Gang für Gang</translation>
    </message>
    <message>
        <source>Magnified</source>
        <translation>Vergrößert</translation>
    </message>
    <message>
        <source>Budget</source>
        <translation>Budget</translation>
    </message>
    <message>
        <source>Whole part</source>
        <translation>Ganzes Teil</translation>
    </message>
    <message>
        <source>Leave a place out</source>
        <translation>Eine Stelle auslassen</translation>
    </message>
    <message>
        <source>Draw a rectangle over a burr or a speck: the outline there does not count</source>
        <translation>Ziehen Sie ein Rechteck über einen Grat oder ein Stäubchen: Der Umriss dort zählt nicht</translation>
    </message>
    <message>
        <source>As found again</source>
        <translation>Wieder wie gefunden</translation>
    </message>
    <message>
        <source>Flank magnified</source>
        <translation>Flanke vergrößert</translation>
    </message>
    <message>
        <source>File this part</source>
        <translation>Dieses Teil ins Register</translation>
    </message>
    <message>
        <source>Save a figure…</source>
        <translation>Abbildung sichern…</translation>
    </message>
    <message>
        <source>Copy the findings</source>
        <translation>Befund kopieren</translation>
    </message>
    <message>
        <source>Next view below the picture</source>
        <translation>Nächste Ansicht unter dem Bild</translation>
    </message>
    <message>
        <source>Use as the original in Fit</source>
        <translation>Als Original in Passung verwenden</translation>
    </message>
    <message>
        <source>{count} remarks on this picture</source>
        <translation>{count} Bemerkungen zu diesem Bild</translation>
    </message>
    <message>
        <source>{name} is being measured…</source>
        <translation>{name} wird gemessen …</translation>
    </message>
    <message>
        <source>No bench is in force: calibrate it, or open a calibration, and this picture is measured.</source>
        <translation>Kein Messplatz ist in Kraft: Kalibrieren Sie ihn oder öffnen Sie eine Kalibrierung, dann wird dieses Bild gemessen.</translation>
    </message>
    <message>
        <source>place left out</source>
        <translation>Stelle ausgelassen</translation>
    </message>
    <message>
        <source>as found</source>
        <translation>wie gefunden</translation>
    </message>
    <message>
        <source>part in view</source>
        <translation>Teil im Bild</translation>
    </message>
    <message>
        <source>looking for parts</source>
        <translation>Teile werden gesucht</translation>
    </message>
    <message>
        <source>The findings are on the clipboard.</source>
        <translation>Der Befund ist in der Zwischenablage.</translation>
    </message>
</context>
<context>
    <name>PartsList</name>
    <message>
        <source>Parts on file</source>
        <translation>Abgelegte Teile</translation>
    </message>
</context>
<context>
    <name>PartsModel</name>
    <message>
        <source>part {number}</source>
        <translation>Teil {number}</translation>
    </message>
    <message>
        <source>{name} (withdrawn)</source>
        <translation>{name} (zurückgezogen)</translation>
    </message>
    <message>
        <source>pitch dia. {size}</source>
        <translation>Flanken-⌀ {size}</translation>
    </message>
    <message>
        <source>reading pictures</source>
        <translation>Bilder werden gelesen</translation>
    </message>
    <message>
        <source>searching the register</source>
        <translation>Die Kartei wird durchsucht</translation>
    </message>
</context>
<context>
    <name>Places</name>
    <message>
        <source>Instruments and jobs</source>
        <translation>Instrumente und Aufträge</translation>
    </message>
    <message>
        <source>all parts  ({count})</source>
        <translation>alle Teile  ({count})</translation>
    </message>
    <message>
        <source>instruments</source>
        <translation>Instrumente</translation>
    </message>
    <message>
        <source>jobs</source>
        <translation>Aufträge</translation>
    </message>
    <message>
        <source>reading the positions</source>
        <translation>Die Stellen werden gelesen</translation>
    </message>
    <message>
        <source>(none yet)</source>
        <translation>(noch keines)</translation>
    </message>
</context>
<context>
    <name>PlayView</name>
    <message>
        <source>engagement</source>
        <translation>Einschraublänge</translation>
    </message>
    <message>
        <source>overhang</source>
        <translation>Überstand</translation>
    </message>
    <message>
        <source>this screw</source>
        <translation>diese Schraube</translation>
    </message>
    <message>
        <source>beside it</source>
        <translation>daneben</translation>
    </message>
    <message>
        <source>Play</source>
        <translation>Spiel</translation>
    </message>
    <message>
        <source>{what}, with its unit</source>
        <translation>{what}, mit Einheit</translation>
    </message>
    <message>
        <source>Lay a screw into its slot and say what the hole is.</source>
        <translation>Legen Sie eine Schraube in ihr Feld und sagen Sie, was das Loch ist.</translation>
    </message>
    <message>
        <source>Proportions are true; the play is drawn {times} times as large.</source>
        <translation>Die Verhältnisse stimmen; das Spiel ist {times}-mal so groß gezeichnet.</translation>
    </message>
    <message>
        <source>Proportions are true.</source>
        <translation>Die Verhältnisse stimmen.</translation>
    </message>
    <message>
        <source>It will not enter the hole.</source>
        <translation>Sie geht nicht in das Loch.</translation>
    </message>
    <message>
        <source>It may not enter the hole: it does in {share}.</source>
        <translation>Sie geht vielleicht nicht in das Loch: Sie tut es in {share}.</translation>
    </message>
    <message>
        <source>It enters the hole.</source>
        <translation>Sie geht in das Loch.</translation>
    </message>
    <message>
        <source>radial clearance</source>
        <translation>radiales Spiel</translation>
    </message>
    <message>
        <source>axial backlash</source>
        <translation>axiales Spiel</translation>
    </message>
    <message>
        <source>tilt</source>
        <translation>Neigung</translation>
    </message>
    <message>
        <source>movement of the end</source>
        <translation>Bewegung des Endes</translation>
    </message>
    <message>
        <source>enters</source>
        <translation>geht hinein</translation>
    </message>
    <message>
        <source>as cut</source>
        <translation>wie geschnitten</translation>
    </message>
</context>
<context>
    <name>Question</name>
    <message>
        <source>Do not file it</source>
        <translation>Nicht ablegen</translation>
    </message>
</context>
<context>
    <name>RegisterPlace</name>
    <message>
        <source>search: words, numbers, sizes</source>
        <translation>Suche: Wörter, Nummern, Größen</translation>
    </message>
    <message>
        <source>Search the register</source>
        <translation>Die Kartei durchsuchen</translation>
    </message>
    <message>
        <source>Search</source>
        <translation>Suchen</translation>
    </message>
    <message>
        <source>Narrow the list down</source>
        <translation>Die Liste einengen</translation>
    </message>
    <message>
        <source>Next part: where does it belong</source>
        <translation>Nächstes Teil: wohin gehört es</translation>
    </message>
    <message>
        <source>File it once more</source>
        <translation>Noch einmal ins Register</translation>
    </message>
    <message>
        <source>Take the last one back</source>
        <translation>Das letzte zurücknehmen</translation>
    </message>
    <message>
        <source>Parts like the one on the bench</source>
        <translation>Teile wie das auf dem Messplatz</translation>
    </message>
    <message>
        <source>The chosen part</source>
        <translation>Das gewählte Teil</translation>
    </message>
    <message>
        <source>Report, export, backup</source>
        <translation>Bericht, Ausgabe, Sicherung</translation>
    </message>
    <message>
        <source>Question in the strip: the first answer</source>
        <translation>Frage im Streifen: die erste Antwort</translation>
    </message>
    <message>
        <source>Question in the strip: the second answer</source>
        <translation>Frage im Streifen: die zweite Antwort</translation>
    </message>
    <message>
        <source>Question in the strip: do not file it</source>
        <translation>Frage im Streifen: nicht ablegen</translation>
    </message>
    <message>
        <source>Nothing is on file yet.

1   Take or open the picture of a part.
2   Say above which instrument it is from and where it belongs, such as index arm 1.
3   Press Enter: picture, sizes and identity are filed together.

The strip counts on to index arm 2 by itself: take the next picture, press Enter.</source>
        <translation>Noch ist nichts abgelegt.

1   Nehmen Sie das Bild eines Teils auf oder öffnen Sie eines.
2   Sagen Sie oben, von welchem Instrument es ist und wohin es gehört, etwa Zeigerarm 1.
3   Drücken Sie die Eingabetaste: Bild, Maße und Identität werden zusammen abgelegt.

Der Streifen zählt von selbst weiter zu Zeigerarm 2: das nächste Bild aufnehmen, Eingabetaste drücken.</translation>
    </message>
    <message>
        <source>Narrow down</source>
        <translation>Einengen</translation>
    </message>
    <message>
        <source>Like the one on the bench</source>
        <translation>Wie das auf dem Messplatz</translation>
    </message>
    <message>
        <source>The part</source>
        <translation>Das Teil</translation>
    </message>
    <message>
        <source>On paper and away</source>
        <translation>Papier und Austausch</translation>
    </message>
    <message>
        <source>reading the register</source>
        <translation>Die Kartei wird gelesen</translation>
    </message>
    <message>
        <source>{name} on file</source>
        <translation>{name} abgelegt</translation>
    </message>
    <message>
        <source>taking it back</source>
        <translation>Es wird zurückgenommen</translation>
    </message>
    <message>
        <source>{count} parts</source>
        <translation>{count} Teile</translation>
    </message>
    <message>
        <source>one part</source>
        <translation>ein Teil</translation>
    </message>
    <message>
        <source>No part on file fits what is asked for.</source>
        <translation>Kein abgelegtes Teil passt zu dem, was gefragt ist.</translation>
    </message>
    <message>
        <source>There is no measured part on the bench to compare with.</source>
        <translation>Auf dem Messplatz liegt kein gemessenes Teil zum Vergleichen.</translation>
    </message>
    <message>
        <source>looking for parts like it</source>
        <translation>Ähnliche Teile werden gesucht</translation>
    </message>
    <message>
        <source>No measured part is on file.</source>
        <translation>Kein gemessenes Teil ist abgelegt.</translation>
    </message>
</context>
<context>
    <name>ResidualChart</name>
    <message>
        <source>Residual of each gauge</source>
        <translation>Rest jedes Normals</translation>
    </message>
</context>
<context>
    <name>Residuals</name>
    <message>
        <source>Edge points off the fitted thread</source>
        <translation>Kantenpunkte neben dem angepassten Gewinde</translation>
    </message>
    <message>
        <source>along the thread, from its middle toward the free end, mm</source>
        <translation>längs des Gewindes, von seiner Mitte zum freien Ende, mm</translation>
    </message>
    <message>
        <source>outside the fitted thread, {unit}; magnified {times} times against its length</source>
        <translation>außerhalb des angepassten Gewindes, {unit}; {times}-mal gegen seine Länge vergrößert</translation>
    </message>
    <message>
        <source>off the thread, {unit}</source>
        <translation>neben dem Gewinde, {unit}</translation>
    </message>
</context>
<context>
    <name>ScaleByHand</name>
    <message>
        <source>Size of one pixel in the plane of the part</source>
        <translation>Größe eines Pixels in der Ebene des Teils</translation>
    </message>
    <message>
        <source>Put in force</source>
        <translation>In Kraft setzen</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>No gauge stands behind such a scale. It is taken to be known to 0.2 % and the edges to 0.3 px (U95): enough to tell coarse threads apart, never to tell standards apart. Lay down two pins when you can.</source>
        <translation>Hinter einem solchen Maßstab steht kein Normal. Er gilt als auf 0,2 % und die Kanten als auf 0,3 px bekannt (U95): genug, um grobe Gewinde zu unterscheiden, nie, um Normen zu unterscheiden. Legen Sie zwei Stifte auf, sobald Sie können.</translation>
    </message>
    <message>
        <source>A scale by hand</source>
        <translation>Ein Maßstab von Hand</translation>
    </message>
    <message>
        <source>One pixel is</source>
        <translation>Ein Pixel ist</translation>
    </message>
    <message>
        <source>A pixel of {size} µm is not credible. Check the unit.</source>
        <translation>Ein Pixel von {size} µm ist nicht glaubhaft. Prüfen Sie die Einheit.</translation>
    </message>
</context>
<context>
    <name>SectionsTable</name>
    <message>
        <source>section</source>
        <translation>Abschnitt</translation>
    </message>
    <message>
        <source>from</source>
        <translation>ab</translation>
    </message>
    <message>
        <source>length</source>
        <translation>Länge</translation>
    </message>
    <message>
        <source>diameter</source>
        <translation>Durchmesser</translation>
    </message>
    <message>
        <source>more</source>
        <translation>weiteres</translation>
    </message>
    <message>
        <source>Sections of the part</source>
        <translation>Abschnitte des Teils</translation>
    </message>
    <message>
        <source>cut off</source>
        <translation>abgeschnitten</translation>
    </message>
</context>
<context>
    <name>SetRight</name>
    <message>
        <source>what it is</source>
        <translation>was es ist</translation>
    </message>
    <message>
        <source>instrument</source>
        <translation>Instrument</translation>
    </message>
    <message>
        <source>position</source>
        <translation>Stelle</translation>
    </message>
    <message>
        <source>job</source>
        <translation>Auftrag</translation>
    </message>
    <message>
        <source>what is to be remembered</source>
        <translation>was man sich merken soll</translation>
    </message>
    <message>
        <source>die</source>
        <translation>Schneideisen</translation>
    </message>
    <message>
        <source>setting</source>
        <translation>Einstellung</translation>
    </message>
    <message>
        <source>stock</source>
        <translation>Material</translation>
    </message>
    <message>
        <source>Name</source>
        <translation>Name</translation>
    </message>
    <message>
        <source>Belongs to</source>
        <translation>Gehört zu</translation>
    </message>
    <message>
        <source>Note</source>
        <translation>Notiz</translation>
    </message>
    <message>
        <source>Replaced with</source>
        <translation>Ersetzt mit</translation>
    </message>
</context>
<context>
    <name>ShownPicture</name>
    <message>
        <source>Picture of the part on file</source>
        <translation>Bild des abgelegten Teils</translation>
    </message>
</context>
<context>
    <name>SignCard</name>
    <message>
        <source>No live picture.</source>
        <translation>Kein lebendes Bild.</translation>
    </message>
    <message>
        <source>good</source>
        <translation>gut</translation>
    </message>
    <message>
        <source>change</source>
        <translation>ändern</translation>
    </message>
</context>
<context>
    <name>Signs</name>
    <message>
        <source>Light</source>
        <translation>Licht</translation>
    </message>
    <message>
        <source>Focus</source>
        <translation>Schärfe</translation>
    </message>
    <message>
        <source>Alignment</source>
        <translation>Lage</translation>
    </message>
    <message>
        <source>No live picture.</source>
        <translation>Kein lebendes Bild.</translation>
    </message>
</context>
<context>
    <name>Slot</name>
    <message>
        <source>Class of the hole</source>
        <translation>Klasse des Lochs</translation>
    </message>
    <message>
        <source>class of the hole, such as 4-40 NC-2</source>
        <translation>Klasse des Lochs wie 4-40 NC-2</translation>
    </message>
    <message>
        <source>{slot}: a part at hand</source>
        <translation>{slot}: ein Teil zur Hand</translation>
    </message>
    <message>
        <source>part no.</source>
        <translation>Teil-Nr.</translation>
    </message>
    <message>
        <source>{slot}: number of a part on file</source>
        <translation>{slot}: Nummer eines abgelegten Teils</translation>
    </message>
    <message>
        <source>Cast…</source>
        <translation>Abguss…</translation>
    </message>
    <message>
        <source>File…</source>
        <translation>Datei…</translation>
    </message>
    <message>
        <source>Hole: from the picture of a cast</source>
        <translation>Loch: aus dem Bild eines Abgusses</translation>
    </message>
    <message>
        <source>{slot}: from a picture file</source>
        <translation>{slot}: aus einer Bilddatei</translation>
    </message>
    <message>
        <source>With its U95 if you know it: {example}</source>
        <translation>Mit seiner U95, wenn Sie sie kennen: {example}</translation>
    </message>
    <message>
        <source>the cast shrank by</source>
        <translation>der Abguss schrumpfte um</translation>
    </message>
    <message>
        <source>major {value}</source>
        <translation>außen {value}</translation>
    </message>
    <message>
        <source>pitch {value}</source>
        <translation>Steigung {value}</translation>
    </message>
    <message>
        <source>cast at hand…</source>
        <translation>Abguss zur Hand…</translation>
    </message>
    <message>
        <source>at hand…</source>
        <translation>zur Hand…</translation>
    </message>
    <message>
        <source>its class, a cast of it, or a hole on file</source>
        <translation>seine Klasse, ein Abguss davon oder ein abgelegtes Loch</translation>
    </message>
    <message>
        <source>nothing lies here yet</source>
        <translation>hier liegt noch nichts</translation>
    </message>
    <message>
        <source>cast: {name}</source>
        <translation>Abguss: {name}</translation>
    </message>
    <message>
        <source>pitch diameter {value}</source>
        <translation>Flankendurchmesser {value}</translation>
    </message>
    <message>
        <source>anywhere in its zone</source>
        <translation>irgendwo in seiner Toleranz</translation>
    </message>
    <message>
        <source>pitch diameter {low} to {high}</source>
        <translation>Flankendurchmesser {low} bis {high}</translation>
    </message>
    <message>
        <source>pitch diameter from {low}</source>
        <translation>Flankendurchmesser ab {low}</translation>
    </message>
    <message>
        <source>minor {low} to {high}</source>
        <translation>Kern {low} bis {high}</translation>
    </message>
    <message>
        <source>minor from {low}</source>
        <translation>Kern ab {low}</translation>
    </message>
    <message>
        <source>{text} is no number of a part: the register shows them.</source>
        <translation>{text} ist keine Nummer eines Teils: Die Kartei zeigt sie.</translation>
    </message>
</context>
<context>
    <name>Slots</name>
    <message>
        <source>Original</source>
        <translation>Original</translation>
    </message>
    <message>
        <source>Replacement</source>
        <translation>Ersatz</translation>
    </message>
    <message>
        <source>Hole</source>
        <translation>Loch</translation>
    </message>
    <message>
        <source>exchange</source>
        <translation>vertauschen</translation>
    </message>
    <message>
        <source>There is no part on the bench.</source>
        <translation>Auf dem Messplatz liegt kein Teil.</translation>
    </message>
    <message>
        <source>{name} was not measured. {why}</source>
        <translation>{name} wurde nicht gemessen. {why}</translation>
    </message>
    <message>
        <source>Nobody said how much this cast shrank: {value:.2f} % with U95 {u95:.2f} % is taken. Type it under the hole, or cast a hole of known size.</source>
        <translation>Niemand hat gesagt, wie stark dieser Abguss schrumpfte: {value:.2f} % mit U95 {u95:.2f} % werden angenommen. Geben Sie es unter dem Loch ein, oder gießen Sie ein Loch bekannter Größe ab.</translation>
    </message>
    <message>
        <source>Pictures</source>
        <translation>Bilder</translation>
    </message>
    <message>
        <source>Open a picture</source>
        <translation>Ein Bild öffnen</translation>
    </message>
    <message>
        <source>No bench is in force: calibrate it, or open a calibration, before pictures are laid in.</source>
        <translation>Kein Messplatz ist in Kraft: Kalibrieren Sie ihn oder öffnen Sie eine Kalibrierung, bevor Bilder eingelegt werden.</translation>
    </message>
    <message>
        <source>measuring {name}</source>
        <translation>{name} wird gemessen</translation>
    </message>
    <message>
        <source>reading part {number}</source>
        <translation>Teil {number} wird gelesen</translation>
    </message>
    <message>
        <source>looking up {name}</source>
        <translation>{name} wird nachgeschlagen</translation>
    </message>
</context>
<context>
    <name>Source</name>
    <message>
        <source>camera {number}</source>
        <translation>Kamera {number}</translation>
    </message>
    <message>
        <source>{name} cannot be opened: is it plugged in, and does no other program use it?</source>
        <translation>{name} lässt sich nicht öffnen: Ist sie angesteckt, und benutzt sie kein anderes Programm?</translation>
    </message>
    <message>
        <source>{name} cannot be opened as a video. Choose another file.</source>
        <translation>{name} lässt sich nicht als Video öffnen. Wählen Sie eine andere Datei.</translation>
    </message>
    <message>
        <source>{name} no longer answers. Check its cable, then press Reconnect; nothing else is lost.</source>
        <translation>{name} antwortet nicht mehr. Prüfen Sie das Kabel und drücken Sie dann „Neu verbinden“; sonst ist nichts verloren.</translation>
    </message>
    <message>
        <source>{name} has ended. Its last frame stays; Space plays it again.</source>
        <translation>{name} ist zu Ende. Das letzte Bild bleibt; die Leertaste spielt es noch einmal.</translation>
    </message>
    <message>
        <source>The folder {name} is gone. Choose another one.</source>
        <translation>Der Ordner {name} ist weg. Wählen Sie einen anderen.</translation>
    </message>
    <message>
        <source>keeping the picture</source>
        <translation>Das Bild wird gesichert</translation>
    </message>
    <message>
        <source>{left} of {all} frames were left out: something moved in them.</source>
        <translation>{left} von {all} Einzelbildern blieben weg: Darin hat sich etwas bewegt.</translation>
    </message>
    <message>
        <source>{name} gives grey pictures in a colour format: they are read as sRGB. A grey picture file is read as linear light, so take the pictures of the gauges from {name} too.</source>
        <translation>{name} liefert graue Bilder in einem Farbformat: Sie werden als sRGB gelesen. Eine graue Bilddatei wird als lineares Licht gelesen. Nehmen Sie deshalb auch die Bilder der Normale mit {name} auf.</translation>
    </message>
</context>
<context>
    <name>SourceChooser</name>
    <message>
        <source>Where pictures come from</source>
        <translation>Woher Bilder kommen</translation>
    </message>
    <message>
        <source>Picture from</source>
        <translation>Bild von</translation>
    </message>
    <message>
        <source>Size of the camera&apos;s picture</source>
        <translation>Größe des Kamerabildes</translation>
    </message>
    <message>
        <source>size as it is</source>
        <translation>Größe wie sie ist</translation>
    </message>
    <message>
        <source>Exposure</source>
        <translation>Belichtung</translation>
    </message>
    <message>
        <source>Gain</source>
        <translation>Verstärkung</translation>
    </message>
    <message>
        <source>Frames averaged to one picture</source>
        <translation>Einzelbilder, die zu einem Bild gemittelt werden</translation>
    </message>
    <message>
        <source>So many frames are averaged to one picture: noise goes down with their root.</source>
        <translation>So viele Einzelbilder werden zu einem gemittelt: Das Rauschen sinkt mit ihrer Wurzel.</translation>
    </message>
    <message>
        <source>Frames</source>
        <translation>Einzelbilder</translation>
    </message>
    <message>
        <source>Reconnect</source>
        <translation>Neu verbinden</translation>
    </message>
    <message>
        <source>Take (T)</source>
        <translation>Aufnehmen (T)</translation>
    </message>
    <message>
        <source>No camera is found. Plug one in and look again; pictures can also come from files.</source>
        <translation>Keine Kamera gefunden. Stecken Sie eine an und sehen Sie noch einmal nach; Bilder können auch aus Dateien kommen.</translation>
    </message>
    <message>
        <source>looking for cameras</source>
        <translation>Kameras werden gesucht</translation>
    </message>
    <message>
        <source>{name} is not plugged in: pictures come from files until it is chosen above.</source>
        <translation>{name} ist nicht angeschlossen: Bilder kommen aus Dateien, bis sie oben gewählt wird.</translation>
    </message>
    <message>
        <source>picture files only</source>
        <translation>nur Bilddateien</translation>
    </message>
    <message>
        <source>look for cameras</source>
        <translation>nach Kameras sehen</translation>
    </message>
    <message>
        <source>a video file…</source>
        <translation>eine Videodatei…</translation>
    </message>
    <message>
        <source>a watched folder…</source>
        <translation>ein beobachteter Ordner…</translation>
    </message>
    <message>
        <source>open a picture file…</source>
        <translation>eine Bilddatei öffnen…</translation>
    </message>
    <message>
        <source>video</source>
        <translation>Video</translation>
    </message>
    <message>
        <source>folder</source>
        <translation>Ordner</translation>
    </message>
    <message>
        <source>Play a video</source>
        <translation>Ein Video abspielen</translation>
    </message>
    <message>
        <source>Videos</source>
        <translation>Videos</translation>
    </message>
    <message>
        <source>Watch a folder</source>
        <translation>Einen Ordner beobachten</translation>
    </message>
    <message>
        <source>Go on</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Pause</source>
        <translation>Anhalten</translation>
    </message>
    <message>
        <source>Play again</source>
        <translation>Noch einmal</translation>
    </message>
    <message>
        <source>Taking {percent} %</source>
        <translation>Aufnahme {percent} %</translation>
    </message>
</context>
<context>
    <name>Strip</name>
    <message>
        <source>instrument</source>
        <translation>Instrument</translation>
    </message>
    <message>
        <source>job</source>
        <translation>Auftrag</translation>
    </message>
    <message>
        <source>position</source>
        <translation>Stelle</translation>
    </message>
    <message>
        <source>what it is</source>
        <translation>was es ist</translation>
    </message>
    <message>
        <source>Part that is filed next</source>
        <translation>Teil, das als nächstes abgelegt wird</translation>
    </message>
    <message>
        <source>Take the last one back</source>
        <translation>Das letzte zurücknehmen</translation>
    </message>
    <message>
        <source>Next: {name}, being measured</source>
        <translation>Als nächstes: {name}, wird gemessen</translation>
    </message>
    <message>
        <source>Next: {name}, measured</source>
        <translation>Als nächstes: {name}, gemessen</translation>
    </message>
    <message>
        <source>Next: {name}, picture only: it was not measured</source>
        <translation>Als nächstes: {name}, nur das Bild: es wurde nicht gemessen</translation>
    </message>
    <message>
        <source>{count} on their way</source>
        <translation>{count} unterwegs</translation>
    </message>
    <message>
        <source>File this part</source>
        <translation>Dieses Teil ins Register</translation>
    </message>
    <message>
        <source>File it once more</source>
        <translation>Noch einmal ins Register</translation>
    </message>
    <message>
        <source>On its way</source>
        <translation>Unterwegs</translation>
    </message>
    <message>
        <source>On file as part {number}</source>
        <translation>Im Register als Teil {number}</translation>
    </message>
    <message>
        <source>File the picture alone</source>
        <translation>Nur das Bild ins Register</translation>
    </message>
    <message>
        <source>File the picture as {position}</source>
        <translation>Nur das Bild als {position}</translation>
    </message>
    <message>
        <source>File this as {position}</source>
        <translation>Ins Register als {position}</translation>
    </message>
    <message>
        <source>No picture in the tray: take or open one; what you type here stays.</source>
        <translation>Kein Bild im Eingang: eins aufnehmen oder öffnen; was hier steht, bleibt.</translation>
    </message>
    <message>
        <source>{name} is filed as {position} as soon as it is measured. Take or open the next picture.</source>
        <translation>{name} kommt als {position} ins Register, sobald es gemessen ist. Nächstes Bild aufnehmen oder öffnen.</translation>
    </message>
    <message>
        <source>{name} is on file. Take or open the next picture.</source>
        <translation>{name} ist im Register. Nächstes Bild aufnehmen oder öffnen.</translation>
    </message>
    <message>
        <source>Next: {name}, still to be measured</source>
        <translation>Als Nächstes: {name}, noch nicht gemessen</translation>
    </message>
    <message>
        <source>reading the positions</source>
        <translation>Die Stellen werden gelesen</translation>
    </message>
    <message>
        <source>{name}: “{typed}” is new, but “{twin}” is on file.</source>
        <translation>{name}: „{typed}“ ist neu, aber „{twin}“ ist abgelegt.</translation>
    </message>
    <message>
        <source>“{twin}” is meant</source>
        <translation>„{twin}“ ist gemeint</translation>
    </message>
    <message>
        <source>Make “{typed}” new</source>
        <translation>„{typed}“ neu anlegen</translation>
    </message>
    <message>
        <source>{name}: this picture is on file as part {number}.</source>
        <translation>{name}: Dieses Bild ist als Teil {number} abgelegt.</translation>
    </message>
    <message>
        <source>{name}: part {number} is on file for {position}.</source>
        <translation>{name}: Teil {number} ist für {position} abgelegt.</translation>
    </message>
    <message>
        <source>Add it to part {number}</source>
        <translation>Zu Teil {number} dazu</translation>
    </message>
    <message>
        <source>It is another part</source>
        <translation>Es ist ein anderes Teil</translation>
    </message>
    <message>
        <source>{name} was not measured. {why}</source>
        <translation>{name} wurde nicht gemessen. {why}</translation>
    </message>
    <message>
        <source>{name} is not on file yet. {why}</source>
        <translation>{name} ist noch nicht im Register. {why}</translation>
    </message>
    <message>
        <source>Try again</source>
        <translation>Noch einmal versuchen</translation>
    </message>
</context>
<context>
    <name>ThreadCharts</name>
    <message>
        <source>Pitch error of each thread</source>
        <translation>Steigungsfehler jedes Gangs</translation>
    </message>
    <message>
        <source>Pitch diameter of each thread</source>
        <translation>Flankendurchmesser jedes Gangs</translation>
    </message>
    <message>
        <source>along the axis, mm</source>
        <translation>längs der Achse, mm</translation>
    </message>
    <message>
        <source>pitch error, {unit}</source>
        <translation>Steigungsfehler, {unit}</translation>
    </message>
    <message>
        <source>pitch diameter, {unit}</source>
        <translation>Flankendurchmesser, {unit}</translation>
    </message>
</context>
<context>
    <name>ThreadView</name>
    <message>
        <source>along the axis, {unit}</source>
        <translation>längs der Achse, {unit}</translation>
    </message>
    <message>
        <source>diameter, {unit}</source>
        <translation>Durchmesser, {unit}</translation>
    </message>
    <message>
        <source>fitted axial section</source>
        <translation>angepasster Achsschnitt</translation>
    </message>
</context>
<context>
    <name>Tour</name>
    <message>
        <source>Tour</source>
        <translation>Rundgang</translation>
    </message>
    <message>
        <source>End the tour</source>
        <translation>Rundgang beenden</translation>
    </message>
    <message>
        <source>Done</source>
        <translation>Fertig</translation>
    </message>
    <message>
        <source>Next</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Every length comes from gauges. Here the bench is calibrated with two pins of 1.000 and 2.500 mm from sample pictures; with your own camera you lay down pins and take their pictures here.</source>
        <translation>Jede Länge kommt von Normalen. Hier wird der Messplatz mit zwei Stiften von 1,000 und 2,500 mm aus Beispielbildern kalibriert; mit Ihrer eigenen Kamera legen Sie Stifte auf und nehmen hier ihre Bilder auf.</translation>
    </message>
    <message>
        <source>An unknown screw from a 1938 marine sextant. The blue line is the thread that was fitted to its shadow. Below, all ridges are folded onto one, over the zones of the threads that it may be.</source>
        <translation>Eine unbekannte Schraube eines Marinesextanten von 1938. Die blaue Linie ist das Gewinde, das an ihren Schatten angepasst wurde. Darunter sind alle Gänge auf einen gefaltet, über den Toleranzen der Gewinde, die es sein kann.</translation>
    </message>
    <message>
        <source>By measurement alone two standards stay open. Say where and when the instrument was made, and see what that changes. What a picture cannot settle is said, not guessed.</source>
        <translation>Nach der Messung allein bleiben zwei Normen offen. Sagen Sie, wo und wann das Instrument gebaut wurde, und sehen Sie, was das ändert. Was ein Bild nicht klären kann, wird gesagt, nicht geraten.</translation>
    </message>
    <message>
        <source>A screw cut today beside it. In Fit you lay the two over each other, check a freshly cut thread, and see how loose it will feel in the old hole.</source>
        <translation>Daneben eine heute geschnittene Schraube. Unter „Passung“ legen Sie die beiden übereinander, prüfen ein frisch geschnittenes Gewinde und sehen, wie lose es sich im alten Loch anfühlen wird.</translation>
    </message>
    <message>
        <source>In the register every part is filed with its picture, so that it goes back where it came from and can be made again in ten years. F1 lists all keys. The tour can be had again from Help.</source>
        <translation>In der Kartei wird jedes Teil mit seinem Bild abgelegt, damit es dorthin zurückkommt, wo es herkam, und in zehn Jahren wieder gemacht werden kann. F1 zeigt alle Tasten. Den Rundgang gibt es noch einmal unter „Hilfe“.</translation>
    </message>
    <message>
        <source>reading the calibration of the samples</source>
        <translation>Kalibrierung der Beispiele wird gelesen</translation>
    </message>
    <message>
        <source>New here? The tour shows the three jobs on sample pictures: Help, Show me round.</source>
        <translation>Neu hier? Der Rundgang zeigt die drei Arbeiten an Beispielbildern: Hilfe, Zeig mir alles.</translation>
    </message>
</context>
<context>
    <name>TrayView</name>
    <message>
        <source>Put it back</source>
        <translation>Zurücklegen</translation>
    </message>
    <message>
        <source>Take it out</source>
        <translation>Herausnehmen</translation>
    </message>
    <message>
        <source>Take the highlighted picture out of the tray</source>
        <translation>Das gewählte Bild aus dem Eingang nehmen</translation>
    </message>
    <message>
        <source>{left} not on file</source>
        <translation>{left} nicht im Register</translation>
    </message>
    <message>
        <source>{way} on their way</source>
        <translation>{way} unterwegs</translation>
    </message>
    <message>
        <source>{waits} to measure</source>
        <translation>{waits} noch zu messen</translation>
    </message>
</context>
<context>
    <name>VerifyPanel</name>
    <message>
        <source>Verify</source>
        <translation>Durchsehen</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>Verify with a pin</source>
        <translation>Mit einem Stift nachprüfen</translation>
    </message>
    <message>
        <source>Lay down a pin that you know. Nothing is changed; the outcome is kept.</source>
        <translation>Legen Sie einen Stift auf, den Sie kennen. Nichts wird geändert; das Ergebnis wird aufbewahrt.</translation>
    </message>
    <message>
        <source>verifying the bench</source>
        <translation>Der Messplatz wird nachgeprüft</translation>
    </message>
    <message>
        <source>The bench holds</source>
        <translation>Der Messplatz stimmt</translation>
    </message>
    <message>
        <source>The bench has changed</source>
        <translation>Der Messplatz hat sich geändert</translation>
    </message>
    <message>
        <source>difference {off}</source>
        <translation>Unterschied {off}</translation>
    </message>
    <message>
        <source>The pin measures as it should: {share} of what the uncertainties allow.</source>
        <translation>Der Stift misst, wie er soll: {share} dessen, was die Unsicherheiten zulassen.</translation>
    </message>
    <message>
        <source>The pin measures {share} times as much different as the uncertainties allow. Clean it, focus on its edges and try again; if it stays, calibrate anew.</source>
        <translation>Der Stift misst {share}-mal so verschieden, wie die Unsicherheiten zulassen. Reinigen Sie ihn, stellen Sie auf seine Kanten scharf und versuchen Sie es noch einmal; bleibt es, kalibrieren Sie neu.</translation>
    </message>
</context>
<context>
    <name>Window</name>
    <message>
        <source>Something unexpected happened ({what}). Your files are as they were. Please report it.</source>
        <translation>Etwas Unerwartetes ist geschehen ({what}). Ihre Dateien sind, wie sie waren. Bitte melden Sie es.</translation>
    </message>
    <message>
        <source>Bench</source>
        <translation>Messplatz</translation>
    </message>
    <message>
        <source>Is the set-up right?</source>
        <translation>Stimmt der Aufbau?</translation>
    </message>
    <message>
        <source>Part</source>
        <translation>Teil</translation>
    </message>
    <message>
        <source>What is this screw?</source>
        <translation>Was ist diese Schraube?</translation>
    </message>
    <message>
        <source>Fit</source>
        <translation>Passung</translation>
    </message>
    <message>
        <source>Original, replacement and hole</source>
        <translation>Original, Ersatz und Loch</translation>
    </message>
    <message>
        <source>Register</source>
        <translation>Kartei</translation>
    </message>
    <message>
        <source>Every part on file</source>
        <translation>Jedes abgelegte Teil</translation>
    </message>
    <message>
        <source>&amp;Picture</source>
        <translation>&amp;Bild</translation>
    </message>
    <message>
        <source>Open pictures…</source>
        <translation>Bilder öffnen …</translation>
    </message>
    <message>
        <source>Paste a picture</source>
        <translation>Ein Bild einfügen</translation>
    </message>
    <message>
        <source>Open a calibration…</source>
        <translation>Eine Kalibrierung öffnen…</translation>
    </message>
    <message>
        <source>Next card of the tray</source>
        <translation>Nächstes Bild im Eingang</translation>
    </message>
    <message>
        <source>Card before it</source>
        <translation>Bild davor</translation>
    </message>
    <message>
        <source>Take the card out of the tray</source>
        <translation>Bild aus dem Eingang nehmen</translation>
    </message>
    <message>
        <source>Quit</source>
        <translation>Beenden</translation>
    </message>
    <message>
        <source>&amp;Edit</source>
        <translation>B&amp;earbeiten</translation>
    </message>
    <message>
        <source>Undo</source>
        <translation>Rückgängig</translation>
    </message>
    <message>
        <source>Redo</source>
        <translation>Wiederholen</translation>
    </message>
    <message>
        <source>&amp;Go</source>
        <translation>&amp;Gehe zu</translation>
    </message>
    <message>
        <source>&amp;Here</source>
        <translation>&amp;Hier</translation>
    </message>
    <message>
        <source>&amp;View</source>
        <translation>&amp;Ansicht</translation>
    </message>
    <message>
        <source>Millimetres or inches</source>
        <translation>Millimeter oder Zoll</translation>
    </message>
    <message>
        <source>Colours as the system has them</source>
        <translation>Farben wie im System</translation>
    </message>
    <message>
        <source>Light</source>
        <translation>Licht</translation>
    </message>
    <message>
        <source>Dark</source>
        <translation>Dunkel</translation>
    </message>
    <message>
        <source>Size of the text</source>
        <translation>Größe der Schrift</translation>
    </message>
    <message>
        <source>Language</source>
        <translation>Sprache</translation>
    </message>
    <message>
        <source>As the system has it</source>
        <translation>Wie im System</translation>
    </message>
    <message>
        <source>&amp;Help</source>
        <translation>Hil&amp;fe</translation>
    </message>
    <message>
        <source>List of keys</source>
        <translation>Liste der Tasten</translation>
    </message>
    <message>
        <source>Show me round with the sample pictures</source>
        <translation>Zeig mir alles an den Beispielbildern</translation>
    </message>
    <message>
        <source>Arrows</source>
        <translation>Pfeiltasten</translation>
    </message>
    <message>
        <source>move over the picture</source>
        <translation>über das Bild gehen</translation>
    </message>
    <message>
        <source>zoom</source>
        <translation>Zoom</translation>
    </message>
    <message>
        <source>the whole picture</source>
        <translation>das ganze Bild</translation>
    </message>
    <message>
        <source>Over a picture</source>
        <translation>Über einem Bild</translation>
    </message>
    <message>
        <source>What was not on file last time is back in the tray.</source>
        <translation>Was beim letzten Mal nicht im Register war, liegt wieder im Eingang.</translation>
    </message>
    <message>
        <source>The program ended badly last time. What was not on file is back in the tray.</source>
        <translation>Das Programm endete beim letzten Mal unerwartet. Was nicht im Register war, liegt wieder im Eingang.</translation>
    </message>
    <message>
        <source>Pictures</source>
        <translation>Bilder</translation>
    </message>
    <message>
        <source>Open pictures</source>
        <translation>Bilder öffnen</translation>
    </message>
    <message>
        <source>Open a calibration</source>
        <translation>Eine Kalibrierung öffnen</translation>
    </message>
    <message>
        <source>Calibrations</source>
        <translation>Kalibrierungen</translation>
    </message>
    <message>
        <source>keeping the picture</source>
        <translation>Das Bild wird gesichert</translation>
    </message>
    <message>
        <source>There is no picture on the clipboard. Copy one and paste again.</source>
        <translation>In der Zwischenablage ist kein Bild. Kopieren Sie eines und fügen Sie es noch einmal ein.</translation>
    </message>
    <message>
        <source>The language changes when the program is started again.</source>
        <translation>Die Sprache wechselt, wenn das Programm neu gestartet wird.</translation>
    </message>
</context>
<context>
    <name>bench</name>
    <message>
        <source>no bench: calibrate, or open a calibration</source>
        <translation>kein Messplatz: kalibrieren, oder eine Kalibrierung öffnen</translation>
    </message>
    <message>
        <source>scale by hand {scale} a pixel, no gauge behind it</source>
        <translation>Maßstab von Hand {scale} je Pixel, kein Normal dahinter</translation>
    </message>
    <message>
        <source>sample calibration, for the tour alone: {scale} a pixel</source>
        <translation>Beispielkalibrierung, nur für den Rundgang: {scale} je Pixel</translation>
    </message>
    <message>
        <source>bench {name}: {scale} a pixel</source>
        <translation>Messplatz {name}: {scale} je Pixel</translation>
    </message>
</context>
<context>
    <name>caution</name>
    <message>
        <source>Where a thread carries load, pressure or people, do not rely on this: have it checked with gauges by someone qualified, and keep to local codes.</source>
        <translation>Wo ein Gewinde Last, Druck oder Menschen trägt, verlassen Sie sich nicht darauf: Lassen Sie es von jemand Fachkundigem mit Lehren prüfen, und halten Sie sich an die örtlichen Vorschriften.</translation>
    </message>
</context>
<context>
    <name>figure</name>
    <message>
        <source>Save a figure</source>
        <translation>Abbildung sichern</translation>
    </message>
    <message>
        <source>{name}: a figure is a pdf, an svg or a png.</source>
        <translation>{name}: Eine Abbildung ist pdf, svg oder png.</translation>
    </message>
    <message>
        <source>drawing {name}</source>
        <translation>{name} wird gezeichnet</translation>
    </message>
    <message>
        <source>The figure is in {path}.</source>
        <translation>Die Abbildung liegt in {path}.</translation>
    </message>
</context>
<context>
    <name>part history</name>
    <message>
        <source>replacement made: {what}</source>
        <translation>Ersatz gemacht: {what}</translation>
    </message>
    <message>
        <source>put on file by {who}</source>
        <translation>abgelegt von {who}</translation>
    </message>
    <message>
        <source>measured by {who}; withdrawn</source>
        <translation>gemessen von {who}; zurückgezogen</translation>
    </message>
    <message>
        <source>measured by {who}: pitch diameter {size}</source>
        <translation>gemessen von {who}: Flankendurchmesser {size}</translation>
    </message>
    <message>
        <source>bench {name}</source>
        <translation>Messplatz {name}</translation>
    </message>
    <message>
        <source>withdrawn</source>
        <translation>zurückgezogen</translation>
    </message>
    <message>
        <source>brought back</source>
        <translation>zurückgeholt</translation>
    </message>
    <message>
        <source>{what}: {before} became {after}</source>
        <translation>{what}: aus {before} wurde {after}</translation>
    </message>
    <message>
        <source>name</source>
        <translation>Name</translation>
    </message>
    <message>
        <source>instrument</source>
        <translation>Instrument</translation>
    </message>
    <message>
        <source>position</source>
        <translation>Stelle</translation>
    </message>
    <message>
        <source>job</source>
        <translation>Auftrag</translation>
    </message>
    <message>
        <source>note</source>
        <translation>Notiz</translation>
    </message>
    <message>
        <source>die</source>
        <translation>Schneideisen</translation>
    </message>
    <message>
        <source>setting</source>
        <translation>Einstellung</translation>
    </message>
    <message>
        <source>stock</source>
        <translation>Material</translation>
    </message>
    <message>
        <source>remark</source>
        <translation>Bemerkung</translation>
    </message>
    <message>
        <source>made</source>
        <translation>gemacht am</translation>
    </message>
    <message>
        <source>made from</source>
        <translation>gebaut von</translation>
    </message>
    <message>
        <source>made to</source>
        <translation>gebaut bis</translation>
    </message>
    <message>
        <source>country</source>
        <translation>Land</translation>
    </message>
    <message>
        <source>maker</source>
        <translation>Hersteller</translation>
    </message>
    <message>
        <source>model</source>
        <translation>Modell</translation>
    </message>
    <message>
        <source>serial number</source>
        <translation>Seriennummer</translation>
    </message>
</context>
<context>
    <name>quantity</name>
    <message>
        <source>pitch</source>
        <translation>Steigung</translation>
    </message>
    <message>
        <source>lead</source>
        <translation>Ganghöhe</translation>
    </message>
    <message>
        <source>threads per inch</source>
        <translation>Gänge je Zoll</translation>
    </message>
    <message>
        <source>major diameter</source>
        <translation>Außendurchmesser</translation>
    </message>
    <message>
        <source>pitch diameter</source>
        <translation>Flankendurchmesser</translation>
    </message>
    <message>
        <source>minor diameter</source>
        <translation>Kerndurchmesser</translation>
    </message>
    <message>
        <source>virtual pitch diameter</source>
        <translation>Paarungsflankendurchmesser</translation>
    </message>
    <message>
        <source>included angle</source>
        <translation>Profilwinkel</translation>
    </message>
    <message>
        <source>flank angle, left</source>
        <translation>Flankenwinkel, links</translation>
    </message>
    <message>
        <source>flank angle, right</source>
        <translation>Flankenwinkel, rechts</translation>
    </message>
    <message>
        <source>crest width</source>
        <translation>Spitzenbreite</translation>
    </message>
    <message>
        <source>root width</source>
        <translation>Grundbreite</translation>
    </message>
    <message>
        <source>crest radius</source>
        <translation>Spitzenradius</translation>
    </message>
    <message>
        <source>root radius</source>
        <translation>Grundradius</translation>
    </message>
    <message>
        <source>taper</source>
        <translation>Verjüngung</translation>
    </message>
    <message>
        <source>tilt of the axis</source>
        <translation>Neigung der Achse</translation>
    </message>
    <message>
        <source>lead angle</source>
        <translation>Steigungswinkel</translation>
    </message>
</context>
<context>
    <name>reasons</name>
    <message>
        <source>Nobody said how well a gauge is known; {um} µm (U95) was assumed. Type the figure of its certificate.</source>
        <translation>Niemand hat gesagt, wie genau ein Normal bekannt ist; {um} µm (U95) wurden angenommen. Geben Sie den Wert aus seinem Prüfschein ein.</translation>
    </message>
    <message>
        <source>Pins and flat gauge do not tell the cone of the light: it shows only where both are known to 0.2 µm or so. Give it under Light and lens if you know it.</source>
        <translation>Stifte und flaches Normal verraten den Lichtkegel nicht: Er zeigt sich nur, wo beide auf etwa 0,2 µm bekannt sind. Geben Sie ihn unter „Licht und Objektiv“ an, wenn Sie ihn kennen.</translation>
    </message>
    <message>
        <source>Several things are in view: leave one gauge on the light pad.</source>
        <translation>Mehreres ist im Bild: Lassen Sie ein Normal auf der Leuchtfläche.</translation>
    </message>
</context>
<context>
    <name>said</name>
    <message>
        <source> (limits from memory, unverified)</source>
        <translation> (Grenzmaße aus dem Gedächtnis, nicht nachgeprüft)</translation>
    </message>
    <message>
        <source> to about {0}</source>
        <translation>bis etwa {0}</translation>
    </message>
    <message>
        <source> until about {0}</source>
        <translation>bis etwa {0}</translation>
    </message>
    <message>
        <source>(?:(?P&lt;whole&gt;\d{1,6})[ -])?(?P&lt;over&gt;\d{1,6})/(?P&lt;under&gt;\d{1,6})</source>
        <translation>(?:(?P&lt;whole&gt;\d{1,6})[ -])?(?P&lt;over&gt;\d{1,6})/(?P&lt;under&gt;\d{1,6})</translation>
    </message>
    <message>
        <source>, so that its end, {0} out, moves {1} to each side ({2})</source>
        <translation>, so dass sein Ende, {0} weit draußen, sich um {1} nach jeder Seite bewegt ({2})</translation>
    </message>
    <message>
        <source>, {0} over the engagement counting {1}</source>
        <translation>, wobei {0} des Eingriffs zählen</translation>
    </message>
    <message>
        <source>. Its crests reach over {0} of the height of the hole&apos;s thread</source>
        <translation>. Seine Spitzen überdecken {0} der Gewindehöhe des Lochs</translation>
    </message>
    <message>
        <source>. Its flank angle is another: {0}; it bears on the edges of its flanks</source>
        <translation>. Sein Flankenwinkel ist ein anderer: {0}; es trägt an den Kanten der Flanken</translation>
    </message>
    <message>
        <source>1 to {0} frames, not {1}</source>
        <translation>1 bis {0} Einzelbilder, nicht {1}</translation>
    </message>
    <message>
        <source>2.500mm, 0.0984in or 25um</source>
        <translation>2.500mm, 0.0984in or 25um</translation>
    </message>
    <message>
        <source>; {0} to the middle</source>
        <translation>; {0} bis zur Mitte</translation>
    </message>
    <message>
        <source>A die for {0}, set to</source>
        <translation>Ein Schneideisen für {0}, eingestellt auf</translation>
    </message>
    <message>
        <source>A light half cone of {0} deg is not possible. Give 0 to 90 deg, or leave it out.</source>
        <translation>Ein halber Öffnungswinkel des Lichts von {0}° ist nicht möglich. Geben Sie 0 bis 90° an, oder lassen Sie ihn weg.</translation>
    </message>
    <message>
        <source>A picture in it is not one: {0}</source>
        <translation>Ein Bild darin ist keines: {0}</translation>
    </message>
    <message>
        <source>A pin has an impossible diameter, reading or uncertainty. Check what was given.</source>
        <translation>Bei einem Prüfstift sind Durchmesser, Ablesung oder Unsicherheit unmöglich. Prüfen Sie die Angaben.</translation>
    </message>
    <message>
        <source>A pin of {0} ± {1} mm is not credible. Check the units.</source>
        <translation>Ein Prüfstift von {0} ± {1} mm ist nicht glaubhaft. Prüfen Sie die Einheiten.</translation>
    </message>
    <message>
        <source>A program that was stopped, or is at work, left {0}.</source>
        <translation>Ein Programm, das abgebrochen wurde oder noch arbeitet, ließ {0} zurück.</translation>
    </message>
    <message>
        <source>A shadow does not show whether a thread is right-hand or left-hand: look at the part.</source>
        <translation>Ein Schattenbild zeigt nicht, ob ein Gewinde rechts- oder linksgängig ist: Sehen Sie sich das Teil an.</translation>
    </message>
    <message>
        <source>A thread spans only {0} pixels: come closer, at least {1} and better 60 pixels a thread are needed.</source>
        <translation>Ein Gang überspannt nur {0} Pixel: Gehen Sie näher heran; mindestens {1}, besser 60 Pixel je Gang sind nötig.</translation>
    </message>
    <message>
        <source>A thread with {0} start{1} would have edges that {2}; those in the picture do not: count again.</source>
        <translation>Ein Gewinde mit {0} Gängen hätte Kanten, die {2}; die im Bild tun das nicht: Zählen Sie noch einmal.</translation>
    </message>
    <message>
        <source>A working distance of {0} mm is not possible. Give that from lens to gauge.</source>
        <translation>Ein Arbeitsabstand von {0} mm ist nicht möglich. Geben Sie den vom Objektiv zum Prüfstift an.</translation>
    </message>
    <message>
        <source>ASME special</source>
        <translation>ASME special</translation>
    </message>
    <message>
        <source>About ({0}, {1}) something repeats {2} times, every {3} px, as a thread does along its axis: that is all this picture tells, no size can be read from it. To be measured a thread must span at least {4} and better 60 px.</source>
        <translation>Um ({0}, {1}) wiederholt sich etwas {2}-mal, alle {3} px, wie ein Gewinde längs seiner Achse: Mehr sagt dieses Bild nicht, ein Maß lässt sich ihm nicht entnehmen. Zum Messen muss ein Gang mindestens {4}, besser 60 px überspannen.</translation>
    </message>
    <message>
        <source>American National</source>
        <translation>American National</translation>
    </message>
    <message>
        <source>Another run is writing {0}. Let it end, or name another file with -o.</source>
        <translation>Ein anderer Lauf schreibt gerade {0}. Warten Sie, bis er fertig ist, oder nennen Sie mit -o eine andere Datei.</translation>
    </message>
    <message>
        <source>Another {0} is called {1} already.</source>
        <translation>Ein anderer Eintrag ({0}) heißt schon {1}.</translation>
    </message>
    <message>
        <source>Background and part differ little in light: expose longer.</source>
        <translation>Hintergrund und Teil unterscheiden sich kaum in der Helligkeit: Belichten Sie länger.</translation>
    </message>
    <message>
        <source>Between the rulings that can be told apart ({0} pixels from each other) there are finer ones that cannot: come closer, focus better, or use a coarser stage micrometer.</source>
        <translation>Zwischen den Teilstrichen, die sich trennen lassen ({0} Pixel voneinander), liegen feinere, die es nicht tun: Gehen Sie näher heran, stellen Sie schärfer, oder nehmen Sie einen gröberen Objektmaßstab.</translation>
    </message>
    <message>
        <source>Between the two ends that were set lies no thread: draw them apart, over the thread.</source>
        <translation>Zwischen den beiden gesetzten Enden liegt kein Gewinde: Ziehen Sie sie auseinander, über das Gewinde.</translation>
    </message>
    <message>
        <source>Calibration {0} was altered since it was filed.</source>
        <translation>Die Kalibrierung {0} wurde verändert, seit sie abgelegt wurde.</translation>
    </message>
    <message>
        <source>Close the die: the pitch diameter must come down by {0} to that of the original.</source>
        <translation>Schneideisen schließen: Der Flankendurchmesser muss um {0} herunter auf den des Originals.</translation>
    </message>
    <message>
        <source>Close the die: the pitch diameter must come down by {0} to the middle of the zone; by {1} at least and not more than {2}.</source>
        <translation>Schneideisen schließen: Der Flankendurchmesser muss um {0} herunter bis zur Mitte der Toleranz; um mindestens {1} und höchstens {2}.</translation>
    </message>
    <message>
        <source>Crests over a part of the length have lost {0} of height. The flanks are sound; the major diameter is that of the crests that are not worn.</source>
        <translation>Auf einem Teil der Länge haben die Spitzen {0} an Höhe verloren. Die Flanken sind gut; der Außendurchmesser ist der der nicht abgenutzten Spitzen.</translation>
    </message>
    <message>
        <source>Cut larger: the pitch diameter must grow by {0} to the middle of the zone; by {1} at least and not more than {2}.</source>
        <translation>Größer schneiden: Der Flankendurchmesser muss um {0} wachsen bis zur Mitte der Toleranz; um mindestens {1} und höchstens {2}.</translation>
    </message>
    <message>
        <source>Czech Republic</source>
        <translation>Tschechien</translation>
    </message>
    <message>
        <source>Dask is not installed here. Install it with: pip install &apos;flankwise[cluster]&apos;.</source>
        <translation>Dask ist hier nicht installiert. Installieren Sie es mit: pip install &apos;flankwise[cluster]&apos;.</translation>
    </message>
    <message>
        <source>Edges are {0} px wide in one place and {1} px in another: lay the axis at right angles to the view. Crest and root are less sure, pitch and pitch diameter hold.</source>
        <translation>Die Kanten sind an einer Stelle {0} px breit und an einer anderen {1} px: Legen Sie die Achse quer zur Blickrichtung. Spitze und Grund sind weniger sicher, Steigung und Flankendurchmesser gelten.</translation>
    </message>
    <message>
        <source>Either as made: {0}; or {1}: {2}.</source>
        <translation>Entweder wie gefertigt: {0}; oder {1}: {2}.</translation>
    </message>
    <message>
        <source>Errors of pitch and flank angles, mostly of the {0}, use up {1} of the {2} that the pitch diameter is allowed: a truer {3} gives more room.</source>
        <translation>Fehler von Steigung und Flankenwinkeln, meist {0}, verbrauchen {1} von den {2}, die dem Flankendurchmesser zustehen: Ein genaueres Werkzeug ({3}) schafft Spielraum.</translation>
    </message>
    <message>
        <source>Fits no series in the tables. Its own dimensions: major diameter {0}, pitch diameter {1}, pitch {2}, included angle {3}</source>
        <translation>Passt zu keiner Reihe in den Tabellen. Seine eigenen Maße: Außendurchmesser {0}, Flankendurchmesser {1}, Steigung {2}, Profilwinkel {3}</translation>
    </message>
    <message>
        <source>Great Britain</source>
        <translation>Großbritannien</translation>
    </message>
    <message>
        <source>ISO 965-1 has no diameter step for {0} mm in the tables at hand</source>
        <translation>ISO 965-1 hat in den vorliegenden Tabellen keine Durchmesserstufe für {0} mm</translation>
    </message>
    <message>
        <source>It drops through {0}: its crests are {1} smaller across than those of the hole</source>
        <translation>Es fällt durch {0}: Seine Spitzen sind im Durchmesser {1} kleiner als die des Lochs</translation>
    </message>
    <message>
        <source>It enters {0}</source>
        <translation>Sie geht in {0} hinein</translation>
    </message>
    <message>
        <source>It is no screw for {0}: its pitch is another, {1}, and {2}.</source>
        <translation>Es ist keine Schraube für {0}: Die Steigung ist eine andere, {1}, und {2}.</translation>
    </message>
    <message>
        <source>It is no screw for {0}: the one is left-hand, the other right-hand.</source>
        <translation>Es ist keine Schraube für {0}: Das eine ist linksgängig, das andere rechtsgängig.</translation>
    </message>
    <message>
        <source>It is no screw for {0}: their numbers of starts differ, and so do their leads.</source>
        <translation>Es ist keine Schraube für {0}: Die Zahlen der Gänge sind verschieden, und damit auch der Vorschub.</translation>
    </message>
    <message>
        <source>It is pulled through {0}: its crests reach over {1} of the height of its thread</source>
        <translation>Es lässt sich durch {0} ziehen: Seine Spitzen überdecken nur {1} von dessen Gewindehöhe</translation>
    </message>
    <message>
        <source>It is too thin</source>
        <translation>Sie ist zu dünn</translation>
    </message>
    <message>
        <source>It may be too thin</source>
        <translation>Sie ist vielleicht zu dünn</translation>
    </message>
    <message>
        <source>It may not enter {0} ({1} {2} are too tight)</source>
        <translation>Sie geht vielleicht nicht in {0} hinein ({1} {2} sind zu eng)</translation>
    </message>
    <message>
        <source>It will not enter {0}: its flank angle is another, {1}.</source>
        <translation>Es geht nicht in {0}: Der Flankenwinkel ist ein anderer, {1}.</translation>
    </message>
    <message>
        <source>It will not enter {0}: {1}.</source>
        <translation>Sie geht nicht in {0} hinein: {1}.</translation>
    </message>
    <message>
        <source>Keep this tap: {0}</source>
        <translation>Diesen Gewindebohrer behalten: {0}</translation>
    </message>
    <message>
        <source>Leave the die as it is: {0}</source>
        <translation>Das Schneideisen lassen, wie es ist: {0}</translation>
    </message>
    <message>
        <source>Leave the {0} as it is set: the pitch diameters agree to within {1}.</source>
        <translation>Lassen Sie {0} eingestellt, wie es ist: Die Flankendurchmesser stimmen auf {1} überein.</translation>
    </message>
    <message>
        <source>Limits of {0} are in part from memory, unverified.</source>
        <translation>Die Grenzmaße von {0} stammen zum Teil aus dem Gedächtnis und sind nicht nachgeprüft.</translation>
    </message>
    <message>
        <source>Line {0} of {1} is no row of results: it was changed by hand or by another program. {2}.</source>
        <translation>Zeile {0} von {1} ist keine Ergebniszeile: Sie wurde von Hand oder von einem anderen Programm verändert. {2}.</translation>
    </message>
    <message>
        <source>Line {0} of {1} was measured with {2}: rows of both do not belong in one file. {3}.</source>
        <translation>Zeile {0} von {1} wurde mit {2} gemessen: Zeilen von beiden gehören nicht in eine Datei. {3}.</translation>
    </message>
    <message>
        <source>Most of what is in the picture is out of focus: its edges are about {0} pixels wide. Focus on the outline of the part, and leave nothing before or behind it.</source>
        <translation>Das meiste im Bild ist unscharf: Seine Kanten sind etwa {0} Pixel breit. Stellen Sie auf den Umriss des Teils scharf, und lassen Sie nichts davor oder dahinter.</translation>
    </message>
    <message>
        <source>New Zealand</source>
        <translation>Neuseeland</translation>
    </message>
    <message>
        <source>Next to the dirt and damage the edge may lean: without those pieces the pitch diameter would be {0} µm {1}. Clean the part.</source>
        <translation>Neben Schmutz und Schäden kann sich die Kante neigen: Ohne diese Stücke wäre der Flankendurchmesser {0} µm {1}. Reinigen Sie das Teil.</translation>
    </message>
    <message>
        <source>No calibration grid in view: a chessboard or square grid of dots, sharp, with at least {0} x {1} points inside the picture, is needed.</source>
        <translation>Kein Kalibriergitter im Bild: Nötig ist ein Schachbrett oder ein quadratisches Punktgitter, scharf, mit mindestens {0} x {1} Punkten im Bild.</translation>
    </message>
    <message>
        <source>No clear edge in the picture: focus on the outline of the part and light the pad evenly.</source>
        <translation>Keine deutliche Kante im Bild: Stellen Sie auf den Umriss des Teils scharf und beleuchten Sie die Fläche gleichmäßig.</translation>
    </message>
    <message>
        <source>No frame came from the source. Check the camera and take the picture again.</source>
        <translation>Von der Quelle kam kein Bild. Prüfen Sie, ob sie angeschlossen ist und kein anderes Programm sie benutzt.</translation>
    </message>
    <message>
        <source>No free end in view: left and right flank are named as if it pointed right (or down).</source>
        <translation>Kein freies Ende im Bild: Linke und rechte Flanke heißen so, als zeigte es nach rechts (oder nach unten).</translation>
    </message>
    <message>
        <source>No gauge pin in view: lay one pin across the light pad, both its edges inside the picture.</source>
        <translation>Kein Prüfstift im Bild: Legen Sie einen Stift quer über die Leuchtfläche, beide Kanten im Bild.</translation>
    </message>
    <message>
        <source>No gauge pin in view: two long straight edges, both inside the picture, are needed.</source>
        <translation>Kein Prüfstift im Bild: Nötig sind zwei lange gerade Kanten, beide im Bild.</translation>
    </message>
    <message>
        <source>No gauge pin lies beside the part: lay one next to it, clear of it, at the height of its axis, both its edges inside the picture.</source>
        <translation>Neben dem Teil liegt kein Prüfstift: Legen Sie einen daneben, frei von ihm, in Höhe seiner Achse, beide Kanten im Bild.</translation>
    </message>
    <message>
        <source>No gauge was given. Give at least one pin: its picture and its diameter.</source>
        <translation>Es wurde kein Normal angegeben. Geben Sie mindestens einen Prüfstift an: sein Bild und seinen Durchmesser.</translation>
    </message>
    <message>
        <source>No gauge was given. Give at least one: the picture of a pin, a stage micrometer or a grid.</source>
        <translation>Es wurde kein Normal angegeben. Geben Sie mindestens eines an: das Bild eines Prüfstifts, eines Objektmaßstabs oder eines Gitters.</translation>
    </message>
    <message>
        <source>No part in view, only lines thinner than {0} pixels: lay the part on the light pad and come closer.</source>
        <translation>Kein Teil im Bild, nur Linien dünner als {0} Pixel: Legen Sie das Teil auf die Leuchtfläche und gehen Sie näher heran.</translation>
    </message>
    <message>
        <source>No part in view: lay it on the light pad, in focus, inside the picture.</source>
        <translation>Kein Teil im Bild: Legen Sie es scharf eingestellt auf die Leuchtfläche, ganz ins Bild.</translation>
    </message>
    <message>
        <source>No part in view: lay it on the light pad, in focus, large in the picture.</source>
        <translation>Kein Teil im Bild: Legen Sie es scharf eingestellt auf die Leuchtfläche, groß ins Bild.</translation>
    </message>
    <message>
        <source>No part of the job {0} is on file: file some with &apos;flankwise record add&apos;.</source>
        <translation>Kein Teil des Auftrags {0} ist abgelegt: Legen Sie welche mit &apos;flankwise record add&apos; ab.</translation>
    </message>
    <message>
        <source>No part on file is meant by this.</source>
        <translation>Damit ist kein abgelegtes Teil gemeint.</translation>
    </message>
    <message>
        <source>No part on file mentions the picture {0}.</source>
        <translation>Kein abgelegtes Teil nennt das Bild {0}.</translation>
    </message>
    <message>
        <source>No part stands out from the background: lay it on the light pad, in focus.</source>
        <translation>Kein Teil hebt sich vom Hintergrund ab: Legen Sie es scharf eingestellt auf die Leuchtfläche.</translation>
    </message>
    <message>
        <source>No part {0} is on file.</source>
        <translation>Ein Teil {0} ist nicht abgelegt.</translation>
    </message>
    <message>
        <source>No part {0} is on file. &apos;flankwise record list&apos; shows which there are.</source>
        <translation>Ein Teil {0} ist nicht abgelegt. &apos;flankwise record list&apos; zeigt, welche es gibt.</translation>
    </message>
    <message>
        <source>No plain shank next to the thread is in view: show more of it, or give --known major=... instead.</source>
        <translation>Neben dem Gewinde ist kein glatter Schaft im Bild: Zeigen Sie mehr davon, oder geben Sie stattdessen --known major=... an.</translation>
    </message>
    <message>
        <source>No scheduler answers at {0}: check the address, such as tcp://192.0.2.1:8786, and that it runs.</source>
        <translation>Unter {0} antwortet kein Scheduler: Prüfen Sie die Adresse, etwa tcp://192.0.2.1:8786, und ob er läuft.</translation>
    </message>
    <message>
        <source>No setting of the die is sure to conform: what errors of pitch and angle and the uncertainty leave of the zone is {0} too narrow. Measure with less uncertainty, or use a truer die; the middle of the zone is {1} {2}.</source>
        <translation>Keine Einstellung des Schneideisens ist sicher gut: Was Fehler von Steigung und Winkel und die Unsicherheit von der Toleranz übrig lassen, ist um {0} zu schmal. Messen Sie mit kleinerer Unsicherheit, oder nehmen Sie ein genaueres Schneideisen; die Mitte der Toleranz liegt {1} {2}.</translation>
    </message>
    <message>
        <source>No significant difference: what is seen may be chance. The pitch diameters agree to within {0}.</source>
        <translation>Kein gesicherter Unterschied: Was zu sehen ist, kann Zufall sein. Die Flankendurchmesser stimmen auf {0} überein.</translation>
    </message>
    <message>
        <source>No stage micrometer in view: a row of at least five parallel rulings at equal distances is needed, sharp and dark before the light pad.</source>
        <translation>Kein Objektmaßstab im Bild: Nötig ist eine Reihe von mindestens fünf parallelen Teilstrichen in gleichem Abstand, scharf und dunkel vor der Leuchtfläche.</translation>
    </message>
    <message>
        <source>No tap is sure to conform: what errors of pitch and angle and the uncertainty leave of the zone is {0} too narrow.</source>
        <translation>Kein Gewindebohrer ist sicher gut: Was Fehler von Steigung und Winkel und die Unsicherheit von der Toleranz übrig lassen, ist um {0} zu schmal.</translation>
    </message>
    <message>
        <source>No thread in view: a plain outline, nothing in it repeats along the axis.</source>
        <translation>Kein Gewinde im Bild: ein glatter Umriss, nichts darin wiederholt sich längs der Achse.</translation>
    </message>
    <message>
        <source>No thread in view: nothing repeats along the axis; {0} threads or more are needed.</source>
        <translation>Kein Gewinde im Bild: Nichts wiederholt sich längs der Achse; {0} Gänge oder mehr sind nötig.</translation>
    </message>
    <message>
        <source>No thread in view: only one edge of the part repeats along its axis, as a saw&apos;s or a rack&apos;s.</source>
        <translation>Kein Gewinde im Bild: Nur eine Kante des Teils wiederholt sich längs der Achse, wie bei einer Säge oder Zahnstange.</translation>
    </message>
    <message>
        <source>No thread in view: the outline is rough but does not repeat evenly along an axis.</source>
        <translation>Kein Gewinde im Bild: Der Umriss ist rau, wiederholt sich aber nicht gleichmäßig längs einer Achse.</translation>
    </message>
    <message>
        <source>No thread in view: too few edge points on its flanks.</source>
        <translation>Kein Gewinde im Bild: zu wenige Kantenpunkte auf seinen Flanken.</translation>
    </message>
    <message>
        <source>No thread in view: what repeats along the outline is too shallow for a thread.</source>
        <translation>Kein Gewinde im Bild: Was sich längs des Umrisses wiederholt, ist für ein Gewinde zu flach.</translation>
    </message>
    <message>
        <source>No {0} is called {1}, but one is called {2}. Write that if it is meant; with --create a new {3} is made.</source>
        <translation>Kein Eintrag ({0}) heißt {1}, aber einer heißt {2}. Schreiben Sie den, wenn er gemeint ist; mit --create wird {3} neu angelegt.</translation>
    </message>
    <message>
        <source>No {0} on file is called {1}{2}.</source>
        <translation>Kein abgelegter Eintrag ({0}) heißt {1}{2}.</translation>
    </message>
    <message>
        <source>Nobody has checked this bench for {0} days: verify it with a pin, or calibrate anew.</source>
        <translation>Seit {0} Tagen hat niemand diesen Messplatz geprüft: Messen Sie einen Prüfstift nach, oder kalibrieren Sie neu.</translation>
    </message>
    <message>
        <source>Nobody said how far the part was turned from picture to picture, and without the free end in view the ridges do not show it: ovality and drunkenness are not determined. Say --turned for each picture.</source>
        <translation>Niemand hat gesagt, wie weit das Teil von Bild zu Bild gedreht wurde, und ohne freies Ende im Bild zeigen die Gänge es nicht: Unrundheit und Taumel sind nicht bestimmt. Geben Sie --turned für jedes Bild an.</translation>
    </message>
    <message>
        <source>Nobody said how much the cast shrank: {0} % with U95 {1} % is taken. Say --shrinkage, or cast a hole of known size.</source>
        <translation>Niemand hat gesagt, wie stark der Abguss geschrumpft ist: Angenommen werden {0} % mit U95 {1} %. Geben Sie --shrinkage an, oder gießen Sie ein Loch bekannter Größe ab.</translation>
    </message>
    <message>
        <source>Nobody said how well the {0} known; {1} um (U95) was assumed. Give the figure of their certificate with {2}.</source>
        <translation>Niemand hat gesagt, wie genau {0} bekannt ist; {1} µm (U95) wurden angenommen. Geben Sie den Wert aus dem Prüfschein mit {2} an.</translation>
    </message>
    <message>
        <source>Nobody said how wide the light is: U95 allows for polished flanks in a half cone of {0} deg. Mask the pad to a small patch and calibrate with --light-cone to narrow it.</source>
        <translation>Niemand hat gesagt, wie weit das Licht ist: U95 rechnet mit blanken Flanken in einem halben Öffnungswinkel von {0}°. Decken Sie die Leuchtfläche bis auf einen kleinen Fleck ab, und geben Sie beim Kalibrieren den Öffnungswinkel an, um sie zu verkleinern.</translation>
    </message>
    <message>
        <source>Nothing where {0} and {1} overlap says how far apart they were taken: let the overlap show the end of the thread or another feature, or say how far the part was moved with --moved.</source>
        <translation>Wo {0} und {1} sich überlappen, sagt nichts, wie weit sie auseinander aufgenommen wurden: Lassen Sie die Überlappung das Ende des Gewindes oder ein anderes Merkmal zeigen, oder geben Sie mit --moved an, wie weit das Teil verschoben wurde.</translation>
    </message>
    <message>
        <source>Of one kind of flank on one edge only {0} % is clean and sound, {1} whole flanks: too little to tell where it stands. Clean the part, or show more of the thread.</source>
        <translation>Von einer Sorte Flanken auf einer Kante sind nur {0} % sauber und gut, {1} ganze Flanken: zu wenig, um zu sagen, wo sie steht. Reinigen Sie das Teil, oder zeigen Sie mehr vom Gewinde.</translation>
    </message>
    <message>
        <source>On which instrument is that position? Give --instrument, or a --job of one.</source>
        <translation>An welchem Instrument ist diese Stelle? Geben Sie --instrument an, oder einen --job daran.</translation>
    </message>
    <message>
        <source>Only one edge of the thread is in the picture: move the part so that both its edges show.</source>
        <translation>Nur eine Kante des Gewindes ist im Bild: Verschieben Sie das Teil, bis beide zu sehen sind.</translation>
    </message>
    <message>
        <source>Only {0} % of the outline lies where a thread&apos;s edge can be: too dirty or damaged to measure. Clean the part.</source>
        <translation>Nur {0} % des Umrisses liegen, wo die Kante eines Gewindes sein kann: zu schmutzig oder beschädigt zum Messen. Reinigen Sie das Teil.</translation>
    </message>
    <message>
        <source>Only {0} threads in view are whole: at least 3 and better 6 are needed; show more of the thread.</source>
        <translation>Nur {0} Gänge im Bild sind ganz: Mindestens 3, besser 6 sind nötig; zeigen Sie mehr vom Gewinde.</translation>
    </message>
    <message>
        <source>Only {0} threads in view: 6 or more give a firmer answer.</source>
        <translation>Nur {0} Gänge im Bild: 6 oder mehr geben eine sicherere Antwort.</translation>
    </message>
    <message>
        <source>Only {0} threads in view: at least {1} and better 6 are needed; show more of the thread.</source>
        <translation>Nur {0} Gänge im Bild: Mindestens {1}, besser 6 sind nötig; zeigen Sie mehr vom Gewinde.</translation>
    </message>
    <message>
        <source>Part {0} is not beside the pin: the others are {1}.</source>
        <translation>Teil {0} liegt nicht neben dem Prüfstift: Die anderen sind {1}.</translation>
    </message>
    <message>
        <source>Part {0} is on file as a screw. File the hole from a picture of its cast: flankwise record add PICTURE --impression.</source>
        <translation>Teil {0} ist als Schraube abgelegt. Legen Sie das Loch aus dem Bild seines Abgusses ab: flankwise record add BILD --impression.</translation>
    </message>
    <message>
        <source>Part {0} is on file for {1}. If this is one more picture of it, give --part-id {2}; if it is another part, --another.</source>
        <translation>Für {1} ist Teil {0} abgelegt. Ist dies noch ein Bild davon, geben Sie --part-id {2} an; ist es ein anderes Teil, --another.</translation>
    </message>
    <message>
        <source>Part {0} is on file without a measurement. Measure it: flankwise record add PICTURE --part-id {1}</source>
        <translation>Teil {0} ist ohne Messung abgelegt. Messen Sie es: flankwise record add BILD --part-id {1}</translation>
    </message>
    <message>
        <source>Parts {0} (from the left) are all plain cylinders: leave one pin in view.</source>
        <translation>Die Teile {0} (von links) sind alle glatte Zylinder: Lassen Sie einen Stift im Bild.</translation>
    </message>
    <message>
        <source>Pins and flat gauge do not tell the cone of the light: it shows only where both are known to 0.2 um or so (--pin-u95, --division-u95). Give it with --light-cone if you know it.</source>
        <translation>Stifte und flaches Normal verraten den Öffnungswinkel des Lichts nicht: Er zeigt sich nur, wo beide auf etwa 0,2 µm bekannt sind (--pin-u95, --division-u95). Geben Sie ihn mit --light-cone an, wenn Sie ihn kennen.</translation>
    </message>
    <message>
        <source>Probability that the thread belongs to no series in the tables: {0}.</source>
        <translation>Wahrscheinlichkeit, dass das Gewinde zu keiner Reihe in den Tabellen gehört: {0}.</translation>
    </message>
    <message>
        <source>Row {0} of {1} leads to a row of {2} that is not there.</source>
        <translation>Zeile {0} von {1} verweist auf eine Zeile von {2}, die es nicht gibt.</translation>
    </message>
    <message>
        <source>South Africa</source>
        <translation>Südafrika</translation>
    </message>
    <message>
        <source>South Korea</source>
        <translation>Südkorea</translation>
    </message>
    <message>
        <source>Soviet Union</source>
        <translation>Sowjetunion</translation>
    </message>
    <message>
        <source>Take the crests down, and turn the next blank thinner, by {0} at least{1}.</source>
        <translation>Nehmen Sie die Spitzen ab, und drehen Sie den nächsten Rohling dünner, um mindestens {0}{1}.</translation>
    </message>
    <message>
        <source>That is about as loose as {0} ({1} its clearance, {2}).</source>
        <translation>Das ist etwa so lose wie {0} ({1} seines Spiels, {2}).</translation>
    </message>
    <message>
        <source>That is about {0} as loose as {1} ({2}).</source>
        <translation>Das ist etwa {0} so lose wie {1} ({2}).</translation>
    </message>
    <message>
        <source>That is tighter than {0}: {1} its clearance ({2}).</source>
        <translation>Das ist enger als {0}: {1} seines Spiels ({2}).</translation>
    </message>
    <message>
        <source>The axis is tilted by {0} deg toward or away from the camera: lay the part flat.</source>
        <translation>Die Achse ist um {0}° zur Kamera hin oder von ihr weg geneigt: Legen Sie das Teil flach.</translation>
    </message>
    <message>
        <source>The axis leans by {0} deg toward or away from the camera, at most {1} can be measured: lay the part flat.</source>
        <translation>Die Achse neigt sich um {0}° zur Kamera hin oder von ihr weg, höchstens {1} lassen sich messen: Legen Sie das Teil flach.</translation>
    </message>
    <message>
        <source>The calibration and the {0} of {1} mm in the picture differ by {2} um, {3} times what their uncertainties allow: the camera was moved, or the size is wrong. Calibrate again, or leave out --calibration.</source>
        <translation>Die Kalibrierung und {0} von {1} mm im Bild weichen um {2} µm voneinander ab, das {3}-Fache dessen, was ihre Unsicherheiten zulassen: Die Kamera wurde bewegt, oder das Maß ist falsch. Kalibrieren Sie neu, oder lassen Sie die Kalibrierung weg.</translation>
    </message>
    <message>
        <source>The calibration cannot be written to {0}: {1}. Choose another place with -o.</source>
        <translation>Die Kalibrierung kann nicht nach {0} geschrieben werden: {1}. Wählen Sie einen anderen Ort.</translation>
    </message>
    <message>
        <source>The calibration in use is that of the sample pictures and is good for them alone. Calibrate with gauges of your own, or open your calibration, and measure this picture with it.</source>
        <translation>Die verwendete Kalibrierung ist die der Beispielbilder und gilt nur für diese. Kalibrieren Sie mit eigenen Normalen oder öffnen Sie Ihre Kalibrierung, und messen Sie dieses Bild damit.</translation>
    </message>
    <message>
        <source>The calibration is that of the sample pictures: no size of a part of yours follows from it.</source>
        <translation>Die Kalibrierung ist die der Beispielbilder: Über die Maße Ihrer Teile sagt sie nichts.</translation>
    </message>
    <message>
        <source>The calibration is {0} days old: calibrate again now and then, and whenever anything was moved.</source>
        <translation>Die Kalibrierung ist {0} Tage alt: Kalibrieren Sie hin und wieder neu, und immer, wenn etwas bewegt wurde.</translation>
    </message>
    <message>
        <source>The calibration was made with another setting of the camera than this picture: {0}. The scale may be wrong: calibrate in the setting in which you measure.</source>
        <translation>Die Kalibrierung wurde mit einer anderen Einstellung der Kamera gemacht als dieses Bild: {0}. Der Maßstab kann falsch sein: Kalibrieren Sie in der Einstellung, in der Sie messen.</translation>
    </message>
    <message>
        <source>The cluster gave no more results ({0}: {1}). Look at its scheduler and give the same command again: it goes on from where it stopped.</source>
        <translation>Der Cluster gab keine Ergebnisse mehr ({0}: {1}). Sehen Sie nach seinem Scheduler und geben Sie denselben Befehl noch einmal: Er geht weiter, wo er aufgehört hat.</translation>
    </message>
    <message>
        <source>The crest is rounded: its radius is given instead of a width.</source>
        <translation>Die Spitze ist gerundet: Statt einer Breite steht ihr Radius da.</translation>
    </message>
    <message>
        <source>The crest is too narrow in this picture to tell flat from rounded.</source>
        <translation>Die Spitze ist in diesem Bild zu schmal, um flach von gerundet zu unterscheiden.</translation>
    </message>
    <message>
        <source>The crests are {0} lower than the full form, lower than any class allows: worn, or turned down. The flanks are sound; the major diameter is what is left.</source>
        <translation>Die Spitzen sind {0} niedriger als das volle Profil, niedriger als jede Klasse erlaubt: abgenutzt oder abgedreht. Die Flanken sind gut; der Außendurchmesser ist das, was übrig ist.</translation>
    </message>
    <message>
        <source>The database is damaged: {0}.</source>
        <translation>Die Datenbank ist beschädigt: {0}.</translation>
    </message>
    <message>
        <source>The database of the backup in {0} is missing or was altered. Use another backup.</source>
        <translation>Die Datenbank der Sicherung in {0} fehlt oder wurde verändert. Nehmen Sie eine andere Sicherung.</translation>
    </message>
    <message>
        <source>The disk with {0} is full. Make room and give the same command again: it goes on from where it stopped.</source>
        <translation>Die Platte mit {0} ist voll. Schaffen Sie Platz und geben Sie denselben Befehl noch einmal: Er geht weiter, wo er aufgehört hat.</translation>
    </message>
    <message>
        <source>The document of measurement {0} of part {1} is damaged: {2}.</source>
        <translation>Das Dokument der Messung {0} von Teil {1} ist beschädigt: {2}.</translation>
    </message>
    <message>
        <source>The document of row {0} of {1} is damaged.</source>
        <translation>Das Dokument der Zeile {0} von {1} ist beschädigt.</translation>
    </message>
    <message>
        <source>The edges are {0} px wide: sharper focus gives smaller uncertainties.</source>
        <translation>Die Kanten sind {0} px breit: Schärferes Einstellen gibt kleinere Unsicherheiten.</translation>
    </message>
    <message>
        <source>The ends of the threaded length were set by hand.</source>
        <translation>Die Enden der Gewindelänge wurden von Hand gesetzt.</translation>
    </message>
    <message>
        <source>The finest rulings cannot be told apart: every tenth was taken to be a long one and every fifth to be of middle length, as is usual. Check that the scale is what you expect.</source>
        <translation>Die feinsten Teilstriche lassen sich nicht unterscheiden: Jeder zehnte wurde für einen langen und jeder fünfte für einen mittleren gehalten, wie es üblich ist. Prüfen Sie, ob der Maßstab der erwartete ist.</translation>
    </message>
    <message>
        <source>The flanks hide the root: the minor diameter is smaller than what can be seen.</source>
        <translation>Die Flanken verdecken den Grund: Der Kerndurchmesser ist kleiner als das, was zu sehen ist.</translation>
    </message>
    <message>
        <source>The gauges disagree by more than their uncertainty; the farthest is {0} ({1}) with {2} um. The uncertainties were widened. Check their sizes, and that rulings and axes of pins lie in one plane of focus.</source>
        <translation>Die Normale widersprechen sich mehr, als ihre Unsicherheit zulässt; am weitesten weg ist {0} ({1}) mit {2} µm. Die Unsicherheiten wurden vergrößert. Prüfen Sie die Maße, und ob Teilstriche und Achsen der Stifte in einer Schärfenebene liegen.</translation>
    </message>
    <message>
        <source>The gauges give a scale of {0} um per pixel, which is not credible. Check the sizes and units.</source>
        <translation>Die Normale ergeben einen Maßstab von {0} µm je Pixel, der nicht glaubhaft ist. Prüfen Sie Maße und Einheiten.</translation>
    </message>
    <message>
        <source>The gauges were taken with different settings: {0}.</source>
        <translation>Die Normale wurden mit verschiedenen Einstellungen aufgenommen: {0}.</translation>
    </message>
    <message>
        <source>The grid leans by about {0} deg: square the camera to it and calibrate again.</source>
        <translation>Das Gitter ist um etwa {0}° gekippt: Richten Sie die Kamera senkrecht darauf und kalibrieren Sie neu.</translation>
    </message>
    <message>
        <source>The groove is too deep or may be, by {0}: another die.</source>
        <translation>Die Rille ist um {0} zu tief oder könnte es sein: ein anderes Schneideisen.</translation>
    </message>
    <message>
        <source>The groove is too shallow or may be: the minor diameter must come down by {0}. The crests of the die are worn or clogged: clean it or use another.</source>
        <translation>Die Rille ist zu flach oder könnte es sein: Der Kerndurchmesser muss um {0} herunter. Die Spitzen des Schneideisens sind abgenutzt oder verklebt: Reinigen Sie es oder nehmen Sie ein anderes.</translation>
    </message>
    <message>
        <source>The hole is {0} {1} than the original on the pitch diameter.</source>
        <translation>Das Loch ist am Flankendurchmesser {0} {1} als das Original.</translation>
    </message>
    <message>
        <source>The last check with a pin showed that the bench has changed: calibrate anew before measuring.</source>
        <translation>Die letzte Prüfung mit einem Stift zeigte, dass sich der Messplatz geändert hat: Kalibrieren Sie neu, bevor Sie messen.</translation>
    </message>
    <message>
        <source>The light pad ends inside the picture: move it or come closer, until it is bright round the part up to the border of the picture.</source>
        <translation>Die Leuchtfläche endet im Bild: Verschieben Sie sie oder gehen Sie näher heran, bis es um das Teil herum hell ist bis zum Bildrand.</translation>
    </message>
    <message>
        <source>The light pad is burnt out ({0} % of it at full white): expose shorter, a saturated pad moves every edge.</source>
        <translation>Die Leuchtfläche ist ausgebrannt ({0} % davon voll weiß): Belichten Sie kürzer, eine gesättigte Fläche verschiebt jede Kante.</translation>
    </message>
    <message>
        <source>The light pad is burnt out along {0} % of the outline: expose shorter, a saturated pad moves every edge.</source>
        <translation>Die Leuchtfläche ist auf {0} % des Umrisses ausgebrannt: Belichten Sie kürzer, eine gesättigte Fläche verschiebt jede Kante.</translation>
    </message>
    <message>
        <source>The manifest in {0} cannot be read.</source>
        <translation>Das Verzeichnis in {0} kann nicht gelesen werden.</translation>
    </message>
    <message>
        <source>The numbers of measurement {0} of part {1} are not those of its document.</source>
        <translation>Die Zahlen der Messung {0} von Teil {1} sind nicht die ihres Dokuments.</translation>
    </message>
    <message>
        <source>The outline misses the fitted thread by {0} px: lens distortion, dirt or a damaged thread.</source>
        <translation>Der Umriss verfehlt das angepasste Gewinde um {0} px: Verzeichnung des Objektivs, Schmutz oder ein beschädigtes Gewinde.</translation>
    </message>
    <message>
        <source>The outline repeats but is not the shadow of a screw thread (it misses one by {0} pixels; {1} % of it fits nowhere): clean the part, or it is no thread.</source>
        <translation>Der Umriss wiederholt sich, ist aber nicht der Schatten eines Schraubengewindes (er verfehlt eines um {0} Pixel; {1} % davon passen nirgends): Reinigen Sie das Teil, oder es ist kein Gewinde.</translation>
    </message>
    <message>
        <source>The outline repeats but is too shallow for a screw thread: a knurl or worn rings.</source>
        <translation>Der Umriss wiederholt sich, ist aber für ein Schraubengewinde zu flach: eine Rändelung oder abgenutzte Ringe.</translation>
    </message>
    <message>
        <source>The outline repeats but its flanks are not those of a screw thread.</source>
        <translation>Der Umriss wiederholt sich, aber seine Flanken sind nicht die eines Schraubengewindes.</translation>
    </message>
    <message>
        <source>The outline repeats but its grooves are too deep for a screw thread: a spring or a chain.</source>
        <translation>Der Umriss wiederholt sich, aber seine Rillen sind für ein Schraubengewinde zu tief: eine Feder oder eine Kette.</translation>
    </message>
    <message>
        <source>The outline repeats but its pitch is too long for a screw thread: a spring or a wood screw.</source>
        <translation>Der Umriss wiederholt sich, aber seine Teilung ist für ein Schraubengewinde zu lang: eine Feder oder eine Holzschraube.</translation>
    </message>
    <message>
        <source>The part fills the picture: step back until the pad shows on both sides of it, ends apart.</source>
        <translation>Das Teil füllt das Bild: Gehen Sie zurück, bis die Fläche zu beiden Seiten zu sehen ist, die Enden ausgenommen.</translation>
    </message>
    <message>
        <source>The part fills the whole picture: step back until the pad shows on both sides of it.</source>
        <translation>Das Teil füllt das ganze Bild: Gehen Sie zurück, bis die Fläche zu beiden Seiten zu sehen ist.</translation>
    </message>
    <message>
        <source>The part is burnt out to white: expose shorter, a saturated part moves every edge.</source>
        <translation>Das Teil ist weiß ausgebrannt: Belichten Sie kürzer, ein gesättigtes Teil verschiebt jede Kante.</translation>
    </message>
    <message>
        <source>The part is out of focus: its edges are {0} pixels wide, at most {1} can be measured; focus on the outline.</source>
        <translation>Das Teil ist unscharf: Seine Kanten sind {0} Pixel breit, höchstens {1} lassen sich messen; stellen Sie auf den Umriss scharf.</translation>
    </message>
    <message>
        <source>The part is pictured from {0} sides: the ovality is at least what they show. Three or more, about 60 degrees apart, show all of it.</source>
        <translation>Das Teil ist von {0} Seiten aufgenommen: Die Unrundheit ist mindestens die, die sie zeigen. Drei oder mehr, etwa 60 Grad auseinander, zeigen sie ganz.</translation>
    </message>
    <message>
        <source>The part or the camera moved while the picture was taken ({0} of {1} frames, by up to {2} px). Let it come to rest and take the picture again.</source>
        <translation>Teil oder Kamera haben sich während der Aufnahme bewegt ({0} von {1} Einzelbildern, um bis zu {2} px). Lassen Sie alles zur Ruhe kommen und nehmen Sie noch einmal auf.</translation>
    </message>
    <message>
        <source>The part shines along {0} % of its outline and its edges are uneven by {1} px: put out the lamps beside it, leave only the pad behind it.</source>
        <translation>Das Teil glänzt auf {0} % seines Umrisses, und seine Kanten sind um {1} px uneben: Schalten Sie die Lampen daneben aus, lassen Sie nur die Fläche dahinter an.</translation>
    </message>
    <message>
        <source>The part shines along {0} % of its outline, so that its edges seem to stand back: put out the lamps beside it, leave only the light pad behind it.</source>
        <translation>Das Teil glänzt auf {0} % seines Umrisses, so dass seine Kanten zurückzuweichen scheinen: Schalten Sie die Lampen daneben aus, lassen Sie nur die Leuchtfläche dahinter an.</translation>
    </message>
    <message>
        <source>The part shines along {0} % of its outline: put out the lamps beside it, leave only the light pad behind it.</source>
        <translation>Das Teil glänzt auf {0} % seines Umrisses: Schalten Sie die Lampen daneben aus, lassen Sie nur die Leuchtfläche dahinter an.</translation>
    </message>
    <message>
        <source>The picture has only {0} x {1} pixels: a thread must span at least {2} and better 60 of them. Come closer and take it with all pixels of the camera.</source>
        <translation>Das Bild hat nur {0} x {1} Pixel: Ein Gang muss mindestens {2}, besser 60 davon überspannen. Gehen Sie näher heran und nehmen Sie es mit allen Pixeln der Kamera auf.</translation>
    </message>
    <message>
        <source>The picture is black: switch the light pad on or expose longer.</source>
        <translation>Das Bild ist schwarz: Schalten Sie die Leuchtfläche ein oder belichten Sie länger.</translation>
    </message>
    <message>
        <source>The picture is white all over: expose shorter until the pad stays below white.</source>
        <translation>Das Bild ist überall weiß: Belichten Sie kürzer, bis die Fläche unter Weiß bleibt.</translation>
    </message>
    <message>
        <source>The picture looks like a {0}-hand thread: look again.</source>
        <translation>Das Bild sieht nach einem anderen Drehsinn aus ({0}): Sehen Sie noch einmal hin.</translation>
    </message>
    <message>
        <source>The picture {0} ({1}) is not what was filed.</source>
        <translation>Das Bild {0} ({1}) ist nicht das, was abgelegt wurde.</translation>
    </message>
    <message>
        <source>The picture {0} ({1}): {2}.</source>
        <translation>Das Bild {0} ({1}): {2}.</translation>
    </message>
    <message>
        <source>The picture {0} has no thumbnail.</source>
        <translation>Das Bild {0} hat kein Vorschaubild.</translation>
    </message>
    <message>
        <source>The picture {0} is missing in the register. Look at it with &apos;flankwise record verify&apos;, or bring back a backup.</source>
        <translation>Das Bild {0} fehlt in der Kartei. Sehen Sie mit &apos;flankwise record verify&apos; nach, oder holen Sie eine Sicherung zurück.</translation>
    </message>
    <message>
        <source>The picture {0} is missing: {1}.</source>
        <translation>Das Bild {0} fehlt: {1}.</translation>
    </message>
    <message>
        <source>The picture {0} is {1}. Look at the register with &apos;flankwise record verify&apos;.</source>
        <translation>Das Bild {0} ist {1}. Sehen Sie mit &apos;flankwise record verify&apos; nach der Kartei.</translation>
    </message>
    <message>
        <source>The picture {0} of the backup is missing or was altered. Nothing was restored; use another backup.</source>
        <translation>Das Bild {0} der Sicherung fehlt oder wurde verändert. Nichts wurde zurückgeholt; nehmen Sie eine andere Sicherung.</translation>
    </message>
    <message>
        <source>The pictures are from benches calibrated apart; the first is shown.</source>
        <translation>Die Bilder stammen von getrennt kalibrierten Messplätzen; der erste wird gezeigt.</translation>
    </message>
    <message>
        <source>The pictures differ by more than each one&apos;s own uncertainty: the part is oval or bent, or was laid or lit differently. The scatter is in U95; more pictures narrow it.</source>
        <translation>Die Bilder weichen stärker voneinander ab, als jedes für sich unsicher ist: Das Teil ist unrund oder krumm, oder es lag oder war anders beleuchtet. Die Streuung steckt in U95; mehr Bilder verkleinern sie.</translation>
    </message>
    <message>
        <source>The pictures do not overlap, or do not show one part: let a quarter of each picture show what the next one shows.{0}</source>
        <translation>Die Bilder überlappen sich nicht oder zeigen nicht ein Teil: Lassen Sie ein Viertel jedes Bildes zeigen, was das nächste zeigt.{0}</translation>
    </message>
    <message>
        <source>The pictures have different scales: take them all on one bench.</source>
        <translation>Die Bilder haben verschiedene Maßstäbe: Nehmen Sie alle auf einem Messplatz auf.</translation>
    </message>
    <message>
        <source>The pin is only {0} pixels thick: come closer or take a thicker pin.</source>
        <translation>Der Stift ist nur {0} Pixel dick: Gehen Sie näher heran oder nehmen Sie einen dickeren.</translation>
    </message>
    <message>
        <source>The pin is out of focus (its edges are {0} pixels wide): focus on its edges.</source>
        <translation>Der Stift ist unscharf (seine Kanten sind {0} Pixel breit): Stellen Sie auf seine Kanten scharf.</translation>
    </message>
    <message>
        <source>The pin of {0} mm looks smaller ({1} px) than the one of {2} mm ({3} px). Were the pictures or diameters swapped?</source>
        <translation>Der Stift von {0} mm sieht kleiner aus ({1} px) als der von {2} mm ({3} px). Wurden Bilder oder Durchmesser vertauscht?</translation>
    </message>
    <message>
        <source>The pins disagree by more than their uncertainty; the farthest is {0} ({1} mm) with {2} um. The uncertainties were widened. Clean the pins, check their sizes and that all lie in one plane.</source>
        <translation>Die Stifte widersprechen sich mehr, als ihre Unsicherheit zulässt; am weitesten weg ist {0} ({1} mm) mit {2} µm. Die Unsicherheiten wurden vergrößert. Reinigen Sie die Stifte, prüfen Sie ihre Maße und ob alle in einer Ebene liegen.</translation>
    </message>
    <message>
        <source>The pins do not fit one scale: the one of {0} mm is {1} px off. Check the diameters, and that the camera was not moved between the pictures.</source>
        <translation>Die Stifte passen nicht zu einem Maßstab: Der von {0} mm liegt {1} px daneben. Prüfen Sie die Durchmesser, und ob die Kamera zwischen den Bildern nicht bewegt wurde.</translation>
    </message>
    <message>
        <source>The pins would need their edges to be seen {0} px away from where they are. Check which diameter belongs to which picture, and that the camera was not moved between them.</source>
        <translation>Die Stifte verlangten, dass ihre Kanten {0} px neben ihrem Ort gesehen werden. Prüfen Sie, welcher Durchmesser zu welchem Bild gehört, und ob die Kamera dazwischen nicht bewegt wurde.</translation>
    </message>
    <message>
        <source>The pitch diameter is {0} {1} than that of the original, more than a {2} can be set (about {3}): another {4}.</source>
        <translation>Der Flankendurchmesser ist {0} {1} als der des Originals, mehr als sich einstellen lässt ({2}: etwa {3}): ein anderes Werkzeug ({4}).</translation>
    </message>
    <message>
        <source>The pitch differs: over {0} mm of engagement it runs off by {1}, which makes the screw {2} thicker to the nut of the other.</source>
        <translation>Die Steigung ist verschieden: Über {0} mm Eingriff läuft sie um {1} davon, was die Schraube für die Mutter der anderen um {2} dicker macht.</translation>
    </message>
    <message>
        <source>The points of a flat gauge scatter by {0} px: dirt, poor focus, or a lens whose distortion is not taken out fully.</source>
        <translation>Die Punkte eines flachen Normals streuen um {0} px: Schmutz, schlechte Schärfe oder ein Objektiv, dessen Verzeichnung nicht ganz herausgerechnet ist.</translation>
    </message>
    <message>
        <source>The points of the grid are only {0} pixels apart: come closer or use a coarser grid, {1} pixels are needed.</source>
        <translation>Die Punkte des Gitters liegen nur {0} Pixel auseinander: Gehen Sie näher heran oder nehmen Sie ein gröberes Gitter, {1} Pixel sind nötig.</translation>
    </message>
    <message>
        <source>The process that measured it was ended: by the system for lack of memory, or by a fault in a library.</source>
        <translation>Der Prozess, der es maß, wurde beendet: vom System aus Mangel an Speicher, oder durch einen Fehler in einer Bibliothek.</translation>
    </message>
    <message>
        <source>The register {0} could not be brought up to date and was left as it was: {1}. A copy of it is {2}.</source>
        <translation>Die Kartei {0} konnte nicht auf den neuen Stand gebracht werden und blieb, wie sie war: {1}. Eine Kopie davon ist {2}.</translation>
    </message>
    <message>
        <source>The register {0} was written by a later version of this program (version {1} of the register, this program knows {2}). It was left untouched; update the program.</source>
        <translation>Die Kartei {0} wurde von einer späteren Version dieses Programms geschrieben (Version {1} der Kartei, dieses Programm kennt {2}). Sie blieb unberührt; bringen Sie das Programm auf den neuen Stand.</translation>
    </message>
    <message>
        <source>The register {0} {1}.</source>
        <translation>Die Kartei {0} {1}.</translation>
    </message>
    <message>
        <source>The replacement is thinner than the original, and what is cut off cannot be put back. Open the die for the next one by {0} of pitch diameter.</source>
        <translation>Der Ersatz ist dünner als das Original, und was weggeschnitten ist, lässt sich nicht zurückholen. Öffnen Sie für den nächsten das Schneideisen um {0} Flankendurchmesser.</translation>
    </message>
    <message>
        <source>The root is not rounded as the form asks: use a die of this form that is not worn.</source>
        <translation>Der Grund ist nicht gerundet, wie das Profil es verlangt: Nehmen Sie ein Schneideisen dieses Profils, das nicht abgenutzt ist.</translation>
    </message>
    <message>
        <source>The root is rounded: its radius is given instead of a width.</source>
        <translation>Der Grund ist gerundet: Statt einer Breite steht sein Radius da.</translation>
    </message>
    <message>
        <source>The root is too narrow in this picture to tell flat from rounded.</source>
        <translation>Der Grund ist in diesem Bild zu schmal, um flach von gerundet zu unterscheiden.</translation>
    </message>
    <message>
        <source>The rows contradict each other or what is on file ({0}). None was filed.</source>
        <translation>Die Zeilen widersprechen einander oder dem, was abgelegt ist ({0}). Keine wurde abgelegt.</translation>
    </message>
    <message>
        <source>The same die set to</source>
        <translation>Dasselbe Schneideisen, eingestellt auf</translation>
    </message>
    <message>
        <source>The same picture was given twice: each must show another stretch.</source>
        <translation>Dasselbe Bild wurde zweimal angegeben: Jedes muss ein anderes Stück zeigen.</translation>
    </message>
    <message>
        <source>The scale comes from one size in the picture ({0}, {1} mm): the edge offset was assumed to be 0 px with a standard uncertainty of {2} px, and nothing is known of the lens. Calibrate the bench with pins of two sizes to narrow the uncertainties.</source>
        <translation>Der Maßstab kommt von einem einzigen Maß im Bild ({0}, {1} mm): Der Kantenversatz wurde mit 0 px und einer Standardunsicherheit von {2} px angenommen, und über das Objektiv ist nichts bekannt. Kalibrieren Sie den Messplatz mit Stiften zweier Größen, um die Unsicherheiten zu verkleinern.</translation>
    </message>
    <message>
        <source>The scale is {0} um per pixel by the {1} and {2} by the {3}. Check sizes and units (the division is the distance of neighbouring lines, the finest there are), and that nothing was moved.</source>
        <translation>Der Maßstab ist {0} µm je Pixel nach {1} und {2} nach {3}. Prüfen Sie Maße und Einheiten (die Teilung ist der Abstand benachbarter Striche, der feinsten, die es gibt), und dass nichts bewegt wurde.</translation>
    </message>
    <message>
        <source>The scale was given by hand: no gauge stands behind these sizes.</source>
        <translation>Der Maßstab wurde von Hand angegeben: Hinter diesen Maßen steht kein Normal.</translation>
    </message>
    <message>
        <source>The scheduler has no workers: start some with &apos;dask worker&apos;.</source>
        <translation>Der Scheduler hat keine Arbeiter: Starten Sie welche mit &apos;dask worker&apos;.</translation>
    </message>
    <message>
        <source>The thread has {0} starts: its lead is {1} pitches.</source>
        <translation>Das Gewinde hat {0} Gänge: Seine Ganghöhe ist {1} Teilungen.</translation>
    </message>
    <message>
        <source>The thread has {0} starts; the series in the tables are single-start.</source>
        <translation>Das Gewinde hat {0} Gänge; die Reihen in den Tabellen sind eingängig.</translation>
    </message>
    <message>
        <source>The thread is left-hand: the designation takes the addition LH.</source>
        <translation>Das Gewinde ist linksgängig: Die Bezeichnung erhält den Zusatz LH.</translation>
    </message>
    <message>
        <source>The turns stated do not fit where the ridges stand in the pictures, for a right-hand thread or a left-hand one: check --turned, clockwise as seen from the head.</source>
        <translation>Die angegebenen Drehungen passen nicht dazu, wo die Gänge in den Bildern stehen, weder für ein Rechts- noch für ein Linksgewinde: Prüfen Sie --turned, im Uhrzeigersinn vom Kopf her gesehen.</translation>
    </message>
    <message>
        <source>The two are different threads: flank angle {0}. Another {1}.</source>
        <translation>Die beiden sind verschiedene Gewinde: Flankenwinkel {0}. Ein anderes Werkzeug ({1}).</translation>
    </message>
    <message>
        <source>The two are different threads: pitch {0}. In a hole that just takes the original the replacement would bind after {1} turns: another {2}.</source>
        <translation>Die beiden sind verschiedene Gewinde: Steigung {0}. In einem Loch, in das das Original gerade noch passt, würde der Ersatz nach {1} Umdrehungen klemmen: ein anderes Werkzeug ({2}).</translation>
    </message>
    <message>
        <source>The two are of another hand or number of starts: no setting of the {0} helps.</source>
        <translation>Die beiden haben verschiedene Gangrichtung oder Gangzahl: Am Werkzeug ({0}) hilft keine Einstellung.</translation>
    </message>
    <message>
        <source>The two edges are not straight and parallel: this is no clean cylindrical pin.</source>
        <translation>Die beiden Kanten sind nicht gerade und parallel: Das ist kein sauberer zylindrischer Stift.</translation>
    </message>
    <message>
        <source>The two edges face each other and nothing shows a lead: rings, a knurl or a spring, or a thread with two starts in a picture too coarse to show them.</source>
        <translation>Die beiden Kanten stehen sich gegenüber, und nichts zeigt eine Steigung: Ringe, eine Rändelung oder eine Feder, oder ein zweigängiges Gewinde in einem Bild, das zu grob ist, um das zu zeigen.</translation>
    </message>
    <message>
        <source>The two edges neither alternate nor face each other as those of a thread do: a spring or another row of shapes cannot be measured.</source>
        <translation>Die beiden Kanten sind weder versetzt noch stehen sie sich gegenüber wie bei einem Gewinde: Eine Feder oder eine andere Reihe von Formen lässt sich nicht messen.</translation>
    </message>
    <message>
        <source>The workers of the cluster cannot run this program ({0}: {1}). Install the same version of flankwise there.</source>
        <translation>Die Arbeiter des Clusters können dieses Programm nicht ausführen ({0}: {1}). Installieren Sie dort dieselbe Version von flankwise.</translation>
    </message>
    <message>
        <source>The {0} flank is worn, {1}: it has lost {2} at the crest. The dimensions are those of the flanks below and beside the wear, as the thread was cut.</source>
        <translation>Die {0} Flanke ist abgenutzt, {1}: An der Spitze hat sie {2} verloren. Die Maße sind die der Flanken unter und neben der Abnutzung, wie das Gewinde geschnitten wurde.</translation>
    </message>
    <message>
        <source>The {0} of {1} {2} was set right once more since: it was left as it is.</source>
        <translation>{0} von {1} {2} wurde seither noch einmal berichtigt: Es blieb, wie es war.</translation>
    </message>
    <message>
        <source>There is no part {0}: {1} seen, numbered from left to right, row by row.</source>
        <translation>Ein Teil {0} gibt es nicht: {1} zu sehen, von links nach rechts gezählt, Reihe für Reihe.</translation>
    </message>
    <message>
        <source>There is no parts register at {0}. The first &apos;flankwise record add&apos; makes one; another one is named with --register.</source>
        <translation>Unter {0} gibt es keine Kartei. Das erste Ablegen legt eine an; eine andere wird mit --register genannt.</translation>
    </message>
    <message>
        <source>There is no such correction on file.</source>
        <translation>Eine solche Berichtigung ist nicht abgelegt.</translation>
    </message>
    <message>
        <source>There is no thread {0}: {1} seen on the part, numbered from left to right.</source>
        <translation>Ein Gewinde {0} gibt es nicht: {1} am Teil zu sehen, von links nach rechts gezählt.</translation>
    </message>
    <message>
        <source>There is no {0} {1} on file.</source>
        <translation>{0} {1} ist nicht abgelegt.</translation>
    </message>
    <message>
        <source>These pictures do not show the same part: the {0} differs; measure them one by one.</source>
        <translation>Diese Bilder zeigen nicht dasselbe Teil: {0} ist verschieden; messen Sie sie einzeln.</translation>
    </message>
    <message>
        <source>These pictures do not show the same part: the {0} is {1} mm in {2} and {3} mm in {4}; measure them one by one.</source>
        <translation>Diese Bilder zeigen nicht dasselbe Teil: {0} ist {1} mm in {2} und {3} mm in {4}; messen Sie sie einzeln.</translation>
    </message>
    <message>
        <source>These pins tell the edge offset to {0} px (U95) only. Add a pin of clearly different diameter, or pins that are better known.</source>
        <translation>Diese Stifte verraten den Kantenversatz nur auf {0} px (U95). Nehmen Sie einen Stift deutlich anderen Durchmessers dazu, oder Stifte, die genauer bekannt sind.</translation>
    </message>
    <message>
        <source>This shadow does not show whether the thread has one start or three; it is read with one. Count the ends of the ridges at the tip and say --starts if there is more than one.</source>
        <translation>Dieser Schatten zeigt nicht, ob das Gewinde ein- oder dreigängig ist; es wird eingängig gelesen. Zählen Sie die Enden der Gänge an der Spitze, und geben Sie die Gangzahl an, wenn es mehr als einer ist.</translation>
    </message>
    <message>
        <source>Too blurred for so fine a thread: the edges are {0} pixels wide and a thread spans {1}; focus better or come closer.</source>
        <translation>Zu unscharf für ein so feines Gewinde: Die Kanten sind {0} Pixel breit, und ein Gang überspannt {1}; stellen Sie schärfer oder gehen Sie näher heran.</translation>
    </message>
    <message>
        <source>Too little of the outline is left outside what was masked: take a mask away.</source>
        <translation>Außerhalb des Ausgelassenen ist zu wenig Umriss übrig: Nehmen Sie eine Auslassung zurück.</translation>
    </message>
    <message>
        <source>Too much of the pin&apos;s outline is dirty or cut off: clean the pin and the pad.</source>
        <translation>Zu viel vom Umriss des Stifts ist schmutzig oder abgeschnitten: Reinigen Sie Stift und Leuchtfläche.</translation>
    </message>
    <message>
        <source>Turn the blank {0} by {1}, or leave it: the flanks carry, not the crests.</source>
        <translation>Drehen Sie den Rohling {0} um {1}, oder lassen Sie ihn: Die Flanken tragen, nicht die Spitzen.</translation>
    </message>
    <message>
        <source>Turn the next blank thicker, by {0} at least.</source>
        <translation>Drehen Sie den nächsten Rohling dicker, um mindestens {0}.</translation>
    </message>
    <message>
        <source>United Kingdom</source>
        <translation>Vereinigtes Königreich</translation>
    </message>
    <message>
        <source>United States</source>
        <translation>Vereinigte Staaten</translation>
    </message>
    <message>
        <source>United States of America</source>
        <translation>Vereinigte Staaten von Amerika</translation>
    </message>
    <message>
        <source>What is cut away cannot be put back. Take a smaller tap for the next one: its pitch diameter must come out {0} smaller for the middle of the zone.</source>
        <translation>Was weggeschnitten ist, lässt sich nicht zurückholen. Nehmen Sie für das nächste Loch einen kleineren Gewindebohrer: Sein Flankendurchmesser muss für die Mitte der Toleranz um {0} kleiner ausfallen.</translation>
    </message>
    <message>
        <source>What is kept for searching of part {0} is not what its rows say.</source>
        <translation>Was zum Suchen von Teil {0} abgelegt ist, stimmt nicht mit seinen Zeilen überein.</translation>
    </message>
    <message>
        <source>What repeats along the outline has too long a lead for a screw thread: a rope or a drill.</source>
        <translation>Was sich längs des Umrisses wiederholt, hat für ein Schraubengewinde eine zu große Steigung: ein Seil oder ein Bohrer.</translation>
    </message>
    <message>
        <source>What repeats along the outline reaches in as far as the axis: a spring, a chain or a comb, no thread.</source>
        <translation>Was sich längs des Umrisses wiederholt, reicht bis zur Achse hinein: eine Feder, eine Kette oder ein Kamm, kein Gewinde.</translation>
    </message>
    <message>
        <source>What was typed has signs in it that are not text. Type it again; nothing was filed.</source>
        <translation>Das Getippte enthält Zeichen, die kein Text sind. Tippen Sie es noch einmal; nichts wurde abgelegt.</translation>
    </message>
    <message>
        <source>Whether it is looser than {0} cannot be told: {1} its clearance ({2}), looser in {3}.</source>
        <translation>Ob sie loser ist als {0}, lässt sich nicht sagen: {1} seines Spiels ({2}), loser in {3}.</translation>
    </message>
    <message>
        <source>Years and countries of use are from memory, unverified.</source>
        <translation>Jahre und Länder der Verwendung stammen aus dem Gedächtnis und sind nicht nachgeprüft.</translation>
    </message>
    <message>
        <source>a GO and NOT GO gauge, or a measurement over three wires to 1 µm: the pitch diameter ({0}) is within its U95 of a limit of {1}</source>
        <translation>eine Gut- und Ausschusslehre oder eine Messung über drei Drähte auf 1 µm: Der Flankendurchmesser ({0}) liegt innerhalb seiner U95 an einer Grenze von {1}</translation>
    </message>
    <message>
        <source>a GO gauge: by its pitch and angle errors the thread would not enter that of {0}</source>
        <translation>eine Gutlehre: Durch seine Steigungs- und Winkelfehler ginge das Gewinde nicht in die von {0}</translation>
    </message>
    <message>
        <source>a hole stands where the screw belongs: the picture of a cast is given with --hole-cast</source>
        <translation>wo die Schraube hingehört, steht ein Loch: Das Bild eines Abgusses wird als Loch angegeben</translation>
    </message>
    <message>
        <source>a key twice</source>
        <translation>ein Schlüssel zweimal</translation>
    </message>
    <message>
        <source>a lens distortion of {0} is not credible</source>
        <translation>eine Verzeichnung des Objektivs von {0} ist nicht glaubhaft</translation>
    </message>
    <message>
        <source>a lens keystone that is not credible</source>
        <translation>eine Trapezverzeichnung, die nicht glaubhaft ist</translation>
    </message>
    <message>
        <source>a micrometer over the crests: the major diameter ({0}) is within its U95 of a limit of {1}</source>
        <translation>eine Bügelmessschraube über den Spitzen: Der Außendurchmesser ({0}) liegt innerhalb seiner U95 an einer Grenze von {1}</translation>
    </message>
    <message>
        <source>a parametric curve that does not rise</source>
        <translation>eine parametrische Kurve, die nicht steigt</translation>
    </message>
    <message>
        <source>a scale from gauge pins: the pitch is known to {0} % only, which holds more than one nominal size</source>
        <translation>einen Maßstab von Prüfstiften: Die Steigung ist nur auf {0} % bekannt, was mehr als ein Nennmaß einschließt</translation>
    </message>
    <message>
        <source>a sharper or larger picture: it would show whether the {0} is {1}, a hint</source>
        <translation>ein schärferes oder größeres Bild: Es würde zeigen, ob {0} {1} ist, ein Hinweis</translation>
    </message>
    <message>
        <source>a weight of {0} is not possible: give more than 0, at most {1}</source>
        <translation>ein Gewicht von {0} ist nicht möglich: geben Sie mehr als 0 an, höchstens {1}</translation>
    </message>
    <message>
        <source>a wire of {0} mm cannot be used for {1}: take one of {2} mm to {3} mm, best {4} mm</source>
        <translation>ein Draht von {0} mm ist für {1} nicht brauchbar: Nehmen Sie einen von {2} mm bis {3} mm, am besten {4} mm</translation>
    </message>
    <message>
        <source>a wire of {0} mm does not lie on the flanks of this thread</source>
        <translation>ein Draht von {0} mm liegt nicht auf den Flanken dieses Gewindes an</translation>
    </message>
    <message>
        <source>above</source>
        <translation>darüber</translation>
    </message>
    <message>
        <source>ambiguous: {0}, see what tells them apart</source>
        <translation>nicht eindeutig: {0}, siehe, was sie unterscheidet</translation>
    </message>
    <message>
        <source>an angle</source>
        <translation>ein Winkel</translation>
    </message>
    <message>
        <source>an engagement of {0} mm is less than one turn of this thread ({1} mm): a screw does not hold in it, and nothing can be said</source>
        <translation>ein Eingriff von {0} mm ist weniger als eine Umdrehung dieses Gewindes ({1} mm): Eine Schraube hält darin nicht, und nichts lässt sich sagen</translation>
    </message>
    <message>
        <source>an entry cannot be: {0}</source>
        <translation>ein Eintrag ist nicht möglich: {0}</translation>
    </message>
    <message>
        <source>an overhang of {0} mm: it is counted outwards from the mouth of the hole</source>
        <translation>ein Überstand von {0} mm: Er wird von der Mündung des Lochs nach außen gezählt</translation>
    </message>
    <message>
        <source>an uncertainty below 0</source>
        <translation>eine Unsicherheit unter 0</translation>
    </message>
    <message>
        <source>as many turns as pictures, and at least one picture</source>
        <translation>so viele Drehungen wie Bilder, und mindestens ein Bild</translation>
    </message>
    <message>
        <source>at least {0} trials are needed</source>
        <translation>mindestens {0} Versuche sind nötig</translation>
    </message>
    <message>
        <source>backlight mirrored by the flanks</source>
        <translation>an den Flanken gespiegeltes Gegenlicht</translation>
    </message>
    <message>
        <source>backlight mirrored by the pins</source>
        <translation>an den Stiften gespiegeltes Gegenlicht</translation>
    </message>
    <message>
        <source>below</source>
        <translation>darunter</translation>
    </message>
    <message>
        <source>burnt light</source>
        <translation>überstrahltes Licht</translation>
    </message>
    <message>
        <source>cannot tell</source>
        <translation>nicht zu entscheiden</translation>
    </message>
    <message>
        <source>chamfer</source>
        <translation>Fase</translation>
    </message>
    <message>
        <source>chamfer length</source>
        <translation>Länge der Fase</translation>
    </message>
    <message>
        <source>cone</source>
        <translation>Kegel</translation>
    </message>
    <message>
        <source>cone of the backlight</source>
        <translation>Kegel des Gegenlichts</translation>
    </message>
    <message>
        <source>did not exist before {0}</source>
        <translation>gab es vor {0} nicht</translation>
    </message>
    <message>
        <source>drops through</source>
        <translation>fällt durch</translation>
    </message>
    <message>
        <source>edge finder and local form</source>
        <translation>Kantenfindung und örtliche Form</translation>
    </message>
    <message>
        <source>edge noise and form</source>
        <translation>Rauschen der Kanten und Form</translation>
    </message>
    <message>
        <source>fits no series in the tables</source>
        <translation>passt zu keiner Reihe in den Tabellen</translation>
    </message>
    <message>
        <source>flank angles</source>
        <translation>Flankenwinkel</translation>
    </message>
    <message>
        <source>flat ({0}) or round ({1})</source>
        <translation>flach ({0}) oder rund ({1})</translation>
    </message>
    <message>
        <source>flat, not round</source>
        <translation>flach, nicht rund</translation>
    </message>
    <message>
        <source>form of crest and root</source>
        <translation>Form von Spitze und Grund</translation>
    </message>
    <message>
        <source>frames of {0} are not known here</source>
        <translation>Einzelbilder von {0} sind hier nicht bekannt</translation>
    </message>
    <message>
        <source>gauges: scale and edge offset</source>
        <translation>Normale: Maßstab und Kantenversatz</translation>
    </message>
    <message>
        <source>give at least one screw, and each part once</source>
        <translation>geben Sie mindestens eine Schraube an, und jedes Teil nur einmal</translation>
    </message>
    <message>
        <source>grown by plating or cut too large</source>
        <translation>durch einen Überzug gewachsen oder zu groß geschnitten</translation>
    </message>
    <message>
        <source>head</source>
        <translation>Kopf</translation>
    </message>
    <message>
        <source>height of the part against the gauges</source>
        <translation>Höhe des Teils gegen die Normale</translation>
    </message>
    <message>
        <source>in common use in {0}</source>
        <translation>allgemein gebräuchlich in {0}</translation>
    </message>
    <message>
        <source>in use from {0}{1}</source>
        <translation>in Gebrauch seit {0}{1}</translation>
    </message>
    <message>
        <source>inside</source>
        <translation>innerhalb</translation>
    </message>
    <message>
        <source>it binds after {0} turns</source>
        <translation>es klemmt nach {0} Umdrehungen</translation>
    </message>
    <message>
        <source>it does not fit unless the {0} came out wrong when it was cut: measure another screw of the set</source>
        <translation>es passt nicht, es sei denn, {0} geriet beim Schneiden falsch: Messen Sie eine andere Schraube des Satzes</translation>
    </message>
    <message>
        <source>it does not start</source>
        <translation>es fasst nicht</translation>
    </message>
    <message>
        <source>it is not of the schema {0}</source>
        <translation>es hat nicht das Schema {0}</translation>
    </message>
    <message>
        <source>it may still come down by {0} or grow by {1} and be sure to conform.</source>
        <translation>er darf noch um {0} herunter oder um {1} wachsen und ist sicher gut.</translation>
    </message>
    <message>
        <source>it would bind after {0} turns; here the flanks of one turn bear, and nothing is said of play</source>
        <translation>es würde nach {0} Umdrehungen klemmen; hier tragen die Flanken eines Gangs, und über das Spiel wird nichts gesagt</translation>
    </message>
    <message>
        <source>its calibration is not on file</source>
        <translation>ihre Kalibrierung ist nicht abgelegt</translation>
    </message>
    <message>
        <source>its crests meet the roots of the hole, {0} too large on the major diameter</source>
        <translation>ihre Spitzen stoßen an den Grund des Lochs, am Außendurchmesser {0} zu groß</translation>
    </message>
    <message>
        <source>its roots meet the crests of the hole, {0} too large on the minor diameter</source>
        <translation>ihr Grund stößt an die Spitzen des Lochs, am Kerndurchmesser {0} zu groß</translation>
    </message>
    <message>
        <source>larger than {0} MB: not a table of thread sizes</source>
        <translation>größer als {0} MB: keine Tabelle von Gewindegrößen</translation>
    </message>
    <message>
        <source>lens values that are no numbers</source>
        <translation>Werte des Objektivs, die keine Zahlen sind</translation>
    </message>
    <message>
        <source>lies on the edge</source>
        <translation>liegt auf der Kante</translation>
    </message>
    <message>
        <source>may not enter</source>
        <translation>geht vielleicht nicht hinein</translation>
    </message>
    <message>
        <source>missing from the edge</source>
        <translation>fehlt an der Kante</translation>
    </message>
    <message>
        <source>no country is known as {0}; {1}known (ISO 3166 code, or the name): {2}</source>
        <translation>{0} ist als Land nicht bekannt; {1}bekannt sind (Kürzel nach ISO 3166 oder Name): {2}</translation>
    </message>
    <message>
        <source>no covariance</source>
        <translation>keine Kovarianz</translation>
    </message>
    <message>
        <source>no derivatives</source>
        <translation>keine Ableitungen</translation>
    </message>
    <message>
        <source>no gauge: {0}</source>
        <translation>kein Normal: {0}</translation>
    </message>
    <message>
        <source>no limit of its own</source>
        <translation>keine eigene Grenze</translation>
    </message>
    <message>
        <source>no series</source>
        <translation>keine Reihe</translation>
    </message>
    <message>
        <source>no such event</source>
        <translation>kein solches Ereignis</translation>
    </message>
    <message>
        <source>no thread of pitch {0} mm measures {1} mm over wires of {2} mm</source>
        <translation>kein Gewinde der Steigung {0} mm misst {1} mm über Drähte von {2} mm</translation>
    </message>
    <message>
        <source>not a JSON value: {0}</source>
        <translation>kein JSON-Wert: {0}</translation>
    </message>
    <message>
        <source>not a covariance</source>
        <translation>keine Kovarianz</translation>
    </message>
    <message>
        <source>not a curve</source>
        <translation>keine Kurve</translation>
    </message>
    <message>
        <source>not a drawing, or a damaged one</source>
        <translation>keine Zeichnung, oder eine beschädigte</translation>
    </message>
    <message>
        <source>not a text file: save the spreadsheet as CSV</source>
        <translation>keine Textdatei: Speichern Sie die Tabelle als CSV</translation>
    </message>
    <message>
        <source>not in common use in {0}</source>
        <translation>nicht allgemein gebräuchlich in {0}</translation>
    </message>
    <message>
        <source>not judged</source>
        <translation>nicht beurteilt</translation>
    </message>
    <message>
        <source>not resolved</source>
        <translation>nicht aufgelöst</translation>
    </message>
    <message>
        <source>nothing is left to tell apart: no other known thread holds these sizes</source>
        <translation>nichts mehr zu unterscheiden: Kein anderes bekanntes Gewinde hat diese Maße</translation>
    </message>
    <message>
        <source>of the holes of that class</source>
        <translation>der Löcher dieser Klasse</translation>
    </message>
    <message>
        <source>of what hole and screw may truly be</source>
        <translation>dessen, was Loch und Schraube wirklich sein können</translation>
    </message>
    <message>
        <source>on the virtual pitch diameter it is too large by {0}</source>
        <translation>am Paarungsflankendurchmesser ist sie um {0} zu groß</translation>
    </message>
    <message>
        <source>one is the thread of a screw, the other that of a hole: &apos;flankwise play&apos; puts them together</source>
        <translation>das eine ist das Gewinde einer Schraube, das andere das eines Lochs: &apos;flankwise play&apos; bringt sie zusammen</translation>
    </message>
    <message>
        <source>one reading, uncertainty and size for each pin</source>
        <translation>eine Ablesung, Unsicherheit und Größe für jeden Stift</translation>
    </message>
    <message>
        <source>only screws are compared with the series, not the threads of holes</source>
        <translation>nur Schrauben werden mit den Reihen verglichen, nicht die Gewinde von Löchern</translation>
    </message>
    <message>
        <source>origin and year not given</source>
        <translation>Herkunft und Jahr nicht angegeben</translation>
    </message>
    <message>
        <source>origin and year: {0}</source>
        <translation>Herkunft und Jahr: {0}</translation>
    </message>
    <message>
        <source>plating: it fits only if the {0} has grown above its maximum by plating, or was cut too large; look at a scratch or a worn place for another metal</source>
        <translation>Überzug: Es passt nur, wenn {0} durch einen Überzug über sein Größtmaß gewachsen ist oder zu groß geschnitten wurde; sehen Sie an einem Kratzer oder einer abgenutzten Stelle nach einem anderen Metall</translation>
    </message>
    <message>
        <source>point</source>
        <translation>Spitze des Teils</translation>
    </message>
    <message>
        <source>repeatability: part laid anew</source>
        <translation>Wiederholbarkeit: Teil neu aufgelegt</translation>
    </message>
    <message>
        <source>round, not flat</source>
        <translation>rund, nicht flach</translation>
    </message>
    <message>
        <source>scale or covariance cannot be</source>
        <translation>Maßstab oder Kovarianz sind nicht möglich</translation>
    </message>
    <message>
        <source>shank</source>
        <translation>Schaft</translation>
    </message>
    <message>
        <source>shape of the blur at corners</source>
        <translation>Form der Unschärfe an Ecken</translation>
    </message>
    <message>
        <source>shines inside the edge</source>
        <translation>glänzt innerhalb der Kante</translation>
    </message>
    <message>
        <source>short curve</source>
        <translation>kurze Kurve</translation>
    </message>
    <message>
        <source>shoulder</source>
        <translation>Absatz</translation>
    </message>
    <message>
        <source>shrinkage of the cast</source>
        <translation>Schwund des Abgusses</translation>
    </message>
    <message>
        <source>slot depth</source>
        <translation>Schlitztiefe</translation>
    </message>
    <message>
        <source>slot width</source>
        <translation>Schlitzbreite</translation>
    </message>
    <message>
        <source>straight within</source>
        <translation>gerade innerhalb</translation>
    </message>
    <message>
        <source>taken over by {0} in {1}</source>
        <translation>von {0} übernommen im Jahr {1}</translation>
    </message>
    <message>
        <source>taper</source>
        <translation>Verjüngung</translation>
    </message>
    <message>
        <source>temperature</source>
        <translation>Temperatur</translation>
    </message>
    <message>
        <source>the class: more screws of the same set, whose spread shows the zone, or the drawing</source>
        <translation>die Klasse: mehr Schrauben desselben Satzes, deren Streuung die Toleranz zeigt, oder die Zeichnung</translation>
    </message>
    <message>
        <source>the entry {0} is missing</source>
        <translation>der Eintrag {0} fehlt</translation>
    </message>
    <message>
        <source>the error of its pitch</source>
        <translation>der Fehler ihrer Steigung</translation>
    </message>
    <message>
        <source>the errors of its flank angles</source>
        <translation>die Fehler ihrer Flankenwinkel</translation>
    </message>
    <message>
        <source>the flank angles of more screws of the set ({0} deg between the flanks; here {1}): taps and dies are off by up to a degree or two</source>
        <translation>die Flankenwinkel von mehr Schrauben des Satzes ({0}° zwischen den Flanken; hier {1}): Gewindebohrer und Schneideisen weichen um ein bis zwei Grad ab</translation>
    </message>
    <message>
        <source>the hole is that of a screw: say that its picture is one of a cast</source>
        <translation>das Loch ist das einer Schraube: Sagen Sie, dass sein Bild das eines Abgusses ist</translation>
    </message>
    <message>
        <source>the picture could not be coded</source>
        <translation>das Bild konnte nicht gespeichert werden</translation>
    </message>
    <message>
        <source>the picture does not give it</source>
        <translation>das Bild gibt es nicht her</translation>
    </message>
    <message>
        <source>the pitch diameter is in the middle of the zone; {0}</source>
        <translation>der Flankendurchmesser liegt in der Mitte der Toleranz; {0}</translation>
    </message>
    <message>
        <source>the pitch diameter is {0} {1} the middle of the zone; {2}</source>
        <translation>der Flankendurchmesser liegt {0} {1} der Mitte der Toleranz; {2}</translation>
    </message>
    <message>
        <source>the root is a hint only: a flat of p/8 (American National) or a wider or rounded one (Unified)</source>
        <translation>der Grund ist nur ein Hinweis: eine Abflachung von p/8 (American National) oder eine breitere oder gerundete (Unified)</translation>
    </message>
    <message>
        <source>the share of replaced screws lies between 0 and 1</source>
        <translation>der Anteil ersetzter Schrauben liegt zwischen 0 und 1</translation>
    </message>
    <message>
        <source>the thread is that of a {0}, {1} is here that of a {2}: give the other one</source>
        <translation>das Gewinde ist das einer {0}, {1} ist hier das einer {2}: Geben Sie das andere an</translation>
    </message>
    <message>
        <source>the years of make {0} to {1} cannot be meant: give a year, or a first and a last year, from {2} to {3}</source>
        <translation>die Baujahre {0} bis {1} können nicht gemeint sein: Geben Sie ein Jahr an, oder ein erstes und ein letztes, von {2} bis {3}</translation>
    </message>
    <message>
        <source>the {0} is a hint only: {1}, and here it is {2}</source>
        <translation>{0} ist nur ein Hinweis: {1}, und hier ist es {2}</translation>
    </message>
    <message>
        <source>thread</source>
        <translation>Gewinde</translation>
    </message>
    <message>
        <source>two to {0} pictures, and one move less</source>
        <translation>zwei bis {0} Bilder, und eine Verschiebung weniger</translation>
    </message>
    <message>
        <source>unclear</source>
        <translation>unklar</translation>
    </message>
    <message>
        <source>undercut</source>
        <translation>Freistich</translation>
    </message>
    <message>
        <source>unknown lens model {0}</source>
        <translation>unbekanntes Objektivmodell {0}</translation>
    </message>
    <message>
        <source>unknown parametric curve</source>
        <translation>unbekannte parametrische Kurve</translation>
    </message>
    <message>
        <source>wear: it fits only if the {0} has worn below its minimum, or was cut too small; measure a length that was never screwed in (under the head, or at the run-out), or look for rounded crests</source>
        <translation>Abnutzung: Es passt nur, wenn {0} unter sein Kleinstmaß abgenutzt oder zu klein geschnitten ist; messen Sie eine Länge, die nie eingeschraubt war (unter dem Kopf oder am Auslauf), oder sehen Sie nach gerundeten Spitzen</translation>
    </message>
    <message>
        <source>worn below its minimum or cut too small</source>
        <translation>unter sein Kleinstmaß abgenutzt oder zu klein geschnitten</translation>
    </message>
    <message>
        <source>went out of common use about {0}; old taps and dies stayed in use</source>
        <translation>kam um {0} außer Gebrauch; alte Gewindebohrer und Schneideisen blieben in Gebrauch</translation>
    </message>
    <message>
        <source>will not enter</source>
        <translation>geht nicht hinein</translation>
    </message>
    <message>
        <source>wires measure screws, not holes</source>
        <translation>Drähte messen Schrauben, keine Löcher</translation>
    </message>
    <message>
        <source>worn</source>
        <translation>abgenutzt</translation>
    </message>
    <message>
        <source>{0} % of one kind of flank on one edge was set aside: the pitch diameter leans on the rest. Clean the part.</source>
        <translation>{0} % einer Sorte Flanken auf einer Kante wurden beiseite gelassen: Der Flankendurchmesser stützt sich auf den Rest. Reinigen Sie das Teil.</translation>
    </message>
    <message>
        <source>{0} % of the background is at full white: expose shorter.</source>
        <translation>{0} % des Hintergrunds sind voll weiß: Belichten Sie kürzer.</translation>
    </message>
    <message>
        <source>{0} % of the outline lies before burnt-out light and was left out: expose shorter.</source>
        <translation>{0} % des Umrisses liegen vor ausgebranntem Licht und wurden weggelassen: Belichten Sie kürzer.</translation>
    </message>
    <message>
        <source>{0} % of the outline was left out by hand: what lay there.</source>
        <translation>{0} % des Umrisses wurden von Hand ausgelassen.</translation>
    </message>
    <message>
        <source>{0} % of the outline was set aside as dirt or damage: clean the part.</source>
        <translation>{0} % des Umrisses wurden als Schmutz oder Schaden beiseite gelassen: Reinigen Sie das Teil.</translation>
    </message>
    <message>
        <source>{0} and {1} are the same picture. Give each once, with its own size.</source>
        <translation>{0} und {1} sind dasselbe Bild. Geben Sie jedes einmal an, mit seinem eigenen Maß.</translation>
    </message>
    <message>
        <source>{0} and {1} do not overlap enough to be joined: let a quarter of each picture show what the next one shows.</source>
        <translation>{0} und {1} überlappen sich nicht genug, um verbunden zu werden: Lassen Sie ein Viertel jedes Bildes zeigen, was das nächste zeigt.</translation>
    </message>
    <message>
        <source>{0} and {1} fit together in {2} ways, {3} mm apart: let the overlap show the end of the thread or another feature, or say how far the part was moved with --moved.</source>
        <translation>{0} und {1} passen auf {2} Arten zusammen, {3} mm auseinander: Lassen Sie die Überlappung das Ende des Gewindes oder ein anderes Merkmal zeigen, oder geben Sie mit --moved an, wie weit das Teil verschoben wurde.</translation>
    </message>
    <message>
        <source>{0} and {1} show the same part {2} % different in size: take all pictures with the same lens, distance and focus.</source>
        <translation>{0} und {1} zeigen dasselbe Teil um {2} % verschieden groß: Nehmen Sie alle Bilder mit gleichem Objektiv, Abstand und gleicher Schärfe auf.</translation>
    </message>
    <message>
        <source>{0} by {1} or {2}</source>
        <translation>{0} nach {1} oder {2}</translation>
    </message>
    <message>
        <source>{0} cannot be opened: {1}. Check the path and its permissions.</source>
        <translation>{0} kann nicht geöffnet werden: {1}. Prüfen Sie den Pfad und seine Rechte.</translation>
    </message>
    <message>
        <source>{0} cannot be read as a picture: {1}. Give a PNG, JPEG, TIFF or BMP file.</source>
        <translation>{0} kann nicht als Bild gelesen werden: {1}. Geben Sie eine PNG-, JPEG-, TIFF- oder BMP-Datei an.</translation>
    </message>
    <message>
        <source>{0} cannot be read or written: {1}. Check the path and the permissions of the folder of the register, or name another register with --register.</source>
        <translation>{0} kann nicht gelesen oder geschrieben werden: {1}. Prüfen Sie Pfad und Rechte des Ordners der Kartei, oder nennen Sie eine andere Kartei.</translation>
    </message>
    <message>
        <source>{0} cannot be read: {1}.</source>
        <translation>{0} kann nicht gelesen werden: {1}.</translation>
    </message>
    <message>
        <source>{0} cannot be searched for</source>
        <translation>nach {0} kann nicht gesucht werden</translation>
    </message>
    <message>
        <source>{0} cannot be used as a calibration: {1}.</source>
        <translation>{0} kann nicht als Kalibrierung dienen: {1}.</translation>
    </message>
    <message>
        <source>{0} cannot be used as a type: {1}</source>
        <translation>{0} kann nicht als Schrift dienen: {1}</translation>
    </message>
    <message>
        <source>{0} cannot be written: the disk is full. Make room and do it again.</source>
        <translation>{0} kann nicht geschrieben werden: Die Platte ist voll. Schaffen Sie Platz und versuchen Sie es noch einmal.</translation>
    </message>
    <message>
        <source>{0} cannot be written: {1}. Choose another place with -o.</source>
        <translation>{0} kann nicht geschrieben werden: {1}. Wählen Sie einen anderen Ort.</translation>
    </message>
    <message>
        <source>{0} does not exist. Check the path.</source>
        <translation>{0} gibt es nicht. Prüfen Sie den Pfad.</translation>
    </message>
    <message>
        <source>{0} does not hold the files that its manifest names.</source>
        <translation>{0} enthält nicht die Dateien, die sein Verzeichnis nennt.</translation>
    </message>
    <message>
        <source>{0} draws are too few for a 95 % range: {1} at least</source>
        <translation>{0} Ziehungen sind zu wenige für einen 95-%-Bereich: mindestens {1}</translation>
    </message>
    <message>
        <source>{0} exists and is not a file of results. {1}.</source>
        <translation>{0} gibt es schon, und es ist keine Ergebnisdatei. {1}.</translation>
    </message>
    <message>
        <source>{0} gauges ({1}) but {2} uncertainties. Give one for all, or one for each.</source>
        <translation>{0} Normale ({1}), aber {2} Unsicherheiten. Geben Sie eine für alle an, oder eine für jedes.</translation>
    </message>
    <message>
        <source>{0} has a pitch of {1} mm and a pitch diameter of {2} mm, the part {3} mm and {4} mm: it is another size; &apos;flankwise identify&apos; says which</source>
        <translation>{0} hat eine Steigung von {1} mm und einen Flankendurchmesser von {2} mm, das Teil {3} mm und {4} mm: Es ist eine andere Größe; „Teil“ sagt, welche</translation>
    </message>
    <message>
        <source>{0} has no limits of major or pitch diameter: it cannot be a candidate</source>
        <translation>{0} hat keine Grenzen von Außen- oder Flankendurchmesser: Es kann kein Kandidat sein</translation>
    </message>
    <message>
        <source>{0} has no limits of the major diameter to draw screws from</source>
        <translation>{0} hat keine Grenzen des Außendurchmessers, aus denen Schrauben gezogen werden könnten</translation>
    </message>
    <message>
        <source>{0} has no limits of the pitch diameter to draw threads from</source>
        <translation>{0} hat keine Grenzen des Flankendurchmessers, aus denen Gewinde gezogen werden könnten</translation>
    </message>
    <message>
        <source>{0} has no row with a part in it.</source>
        <translation>{0} hat keine Zeile mit einem Teil.</translation>
    </message>
    <message>
        <source>{0} has other columns: it was written with or without --identify, or by another version of the program. {1}.</source>
        <translation>{0} hat andere Spalten: Es wurde mit oder ohne --identify geschrieben, oder von einer anderen Version des Programms. {1}.</translation>
    </message>
    <message>
        <source>{0} has {1} x {2} pixels, {3} has {4} x {5}. Take all gauges in the same setting of the camera, uncropped.</source>
        <translation>{0} hat {1} x {2} Pixel, {3} hat {4} x {5}. Nehmen Sie alle Normale in derselben Einstellung der Kamera auf, unbeschnitten.</translation>
    </message>
    <message>
        <source>{0} has {1} x {2} pixels, {3} is for {4} x {5}: the scale would be wrong.{6} Use the camera&apos;s full picture in the same setting, or calibrate for this one.</source>
        <translation>{0} hat {1} x {2} Pixel, {3} gilt für {4} x {5}: Der Maßstab wäre falsch.{6} Nehmen Sie das volle Bild der Kamera in derselben Einstellung, oder kalibrieren Sie für dieses.</translation>
    </message>
    <message>
        <source>{0} has {1} x {2} pixels; a measurement needs at least {3} on each side. Use the full picture of the camera.</source>
        <translation>{0} hat {1} x {2} Pixel; eine Messung braucht mindestens {3} auf jeder Seite. Nehmen Sie das volle Bild der Kamera.</translation>
    </message>
    <message>
        <source>{0} has {1}; save it with 8 or 16 bits a channel (TIFF: 32-bit float as well).</source>
        <translation>{0} hat {1}; speichern Sie es mit 8 oder 16 Bit je Kanal (TIFF: auch 32-Bit-Gleitkomma).</translation>
    </message>
    <message>
        <source>{0} holds a weight that is not possible: correct or remove it</source>
        <translation>{0} enthält ein Gewicht, das nicht möglich ist: berichtigen oder entfernen Sie es</translation>
    </message>
    <message>
        <source>{0} holds no JSON, or a damaged one ({1}).</source>
        <translation>{0} enthält kein JSON, oder ein beschädigtes ({1}).</translation>
    </message>
    <message>
        <source>{0} holds other files. Name a new or empty folder.</source>
        <translation>{0} enthält andere Dateien. Nennen Sie einen neuen oder leeren Ordner.</translation>
    </message>
    <message>
        <source>{0} in {1} is not what its manifest says. Have the bundle sent again.</source>
        <translation>{0} in {1} ist nicht das, was das Verzeichnis sagt. Lassen Sie sich das Bündel noch einmal schicken.</translation>
    </message>
    <message>
        <source>{0} inside the nearer limit, {1} needed</source>
        <translation>{0} innerhalb der näheren Grenze, {1} nötig</translation>
    </message>
    <message>
        <source>{0} is a database, but not a parts register. Check the path.</source>
        <translation>{0} ist eine Datenbank, aber keine Teilekartei. Prüfen Sie den Pfad.</translation>
    </message>
    <message>
        <source>{0} is a folder. Give the path of a picture file.</source>
        <translation>{0} ist ein Ordner. Geben Sie den Pfad einer Bilddatei an.</translation>
    </message>
    <message>
        <source>{0} is a hole, not a screw</source>
        <translation>{0} ist ein Loch, keine Schraube</translation>
    </message>
    <message>
        <source>{0} is a screw, not a hole</source>
        <translation>{0} ist eine Schraube, kein Loch</translation>
    </message>
    <message>
        <source>{0} is a zip file, but no bundle of this program.</source>
        <translation>{0} ist eine ZIP-Datei, aber kein Bündel dieses Programms.</translation>
    </message>
    <message>
        <source>{0} is a zip file, but no bundle: it has no {1}.</source>
        <translation>{0} ist eine ZIP-Datei, aber kein Bündel: {1} fehlt.</translation>
    </message>
    <message>
        <source>{0} is an internal thread: wires measure screws</source>
        <translation>{0} ist ein Innengewinde: Drähte messen Schrauben</translation>
    </message>
    <message>
        <source>{0} is cut short: the end of the picture is missing. Copy the file again.</source>
        <translation>{0} ist abgeschnitten: Das Ende des Bildes fehlt. Kopieren Sie die Datei noch einmal.</translation>
    </message>
    <message>
        <source>{0} is damaged and cannot be decoded. Copy or take the picture again.</source>
        <translation>{0} ist beschädigt und kann nicht gelesen werden. Kopieren Sie das Bild noch einmal oder nehmen Sie es neu auf.</translation>
    </message>
    <message>
        <source>{0} is damaged: correct or remove it</source>
        <translation>{0} ist beschädigt: berichtigen oder entfernen Sie die Datei</translation>
    </message>
    <message>
        <source>{0} is larger than 2 GB. Crop it to the part, keeping its scale.</source>
        <translation>{0} ist größer als 2 GB. Beschneiden Sie es auf das Teil, ohne den Maßstab zu ändern.</translation>
    </message>
    <message>
        <source>{0} is larger than any register&apos;s rows.</source>
        <translation>{0} ist größer als die Zeilen jeder Kartei.</translation>
    </message>
    <message>
        <source>{0} is no bundle, or it is damaged ({1}). Have it sent again.</source>
        <translation>{0} ist kein Bündel oder ist beschädigt ({1}). Lassen Sie es sich noch einmal schicken.</translation>
    </message>
    <message>
        <source>{0} is no document of parts of this program.</source>
        <translation>{0} ist kein Dokument von Teilen dieses Programms.</translation>
    </message>
    <message>
        <source>{0} is no number</source>
        <translation>{0} ist keine Zahl</translation>
    </message>
    <message>
        <source>{0} is no number of pixels</source>
        <translation>{0} ist keine Anzahl von Pixeln</translation>
    </message>
    <message>
        <source>{0} is no text</source>
        <translation>{0} ist kein Text</translation>
    </message>
    <message>
        <source>{0} is not a backup that &apos;flankwise record backup&apos; made.</source>
        <translation>{0} ist keine Sicherung, die dieses Programm gemacht hat.</translation>
    </message>
    <message>
        <source>{0} is not a class of ISO 965-1</source>
        <translation>{0} ist keine Klasse von ISO 965-1</translation>
    </message>
    <message>
        <source>{0} is not a file. Choose another place with -o.</source>
        <translation>{0} ist keine Datei. Wählen Sie einen anderen Ort.</translation>
    </message>
    <message>
        <source>{0} is not a file. Give the path of a picture file.</source>
        <translation>{0} ist keine Datei. Geben Sie den Pfad einer Bilddatei an.</translation>
    </message>
    <message>
        <source>{0} is not a parts register. Check the path.</source>
        <translation>{0} ist keine Teilekartei. Prüfen Sie den Pfad.</translation>
    </message>
    <message>
        <source>{0} is on file with {1} {2}, not {3}. If that is wrong, set it right with &apos;flankwise record correct instrument&apos;; else leave it out.</source>
        <translation>{0} ist abgelegt mit {1} {2}, nicht {3}. Ist das falsch, berichtigen Sie es; sonst lassen Sie es weg.</translation>
    </message>
    <message>
        <source>{0} is partly transparent: it was edited, and the edge of the cut-out would be measured instead of the part. Use the picture as the camera gave it.</source>
        <translation>{0} ist teilweise durchsichtig: Es wurde bearbeitet, und gemessen würde der Rand des Ausschnitts statt des Teils. Nehmen Sie das Bild, wie die Kamera es gab.</translation>
    </message>
    <message>
        <source>{0} is the same picture as {1}: it says nothing new; take another.</source>
        <translation>{0} ist dasselbe Bild wie {1}: Es sagt nichts Neues; nehmen Sie ein anderes auf.</translation>
    </message>
    <message>
        <source>{0} mm ({1} to the inch)</source>
        <translation>{0} mm ({1} auf den Zoll)</translation>
    </message>
    <message>
        <source>{0} mm is not of this screw, which should measure about {1} mm over wires of {2} mm; is the reading over all three wires?</source>
        <translation>{0} mm gehört nicht zu dieser Schraube, die über Drähte von {2} mm etwa {1} mm messen müsste; gilt die Ablesung für alle drei Drähte?</translation>
    </message>
    <message>
        <source>{0} mm with a U95 of {1} mm is not credible for {2}. Check the units.</source>
        <translation>{0} mm mit einer U95 von {1} mm ist für {2} nicht glaubhaft. Prüfen Sie die Einheiten.</translation>
    </message>
    <message>
        <source>{0} needs more memory than there is. Crop the picture to the part, keeping its scale.</source>
        <translation>{0} braucht mehr Speicher, als da ist. Beschneiden Sie das Bild auf das Teil, ohne den Maßstab zu ändern.</translation>
    </message>
    <message>
        <source>{0} on {1}: a job is printed as one of {2} on one of {3}</source>
        <translation>{0} auf {1}: Ein Auftrag wird als eines von {2} auf einem von {3} gedruckt</translation>
    </message>
    <message>
        <source>{0} parts lie beside the pin (part {1} from the left): name one with --part, of {2}, or take the others away.</source>
        <translation>{0} Teile liegen neben dem Stift (Teil {1} von links): Nennen Sie eines von {2}, oder nehmen Sie die anderen weg.</translation>
    </message>
    <message>
        <source>{0} references in {1} lead nowhere. It was left as it was; look at it with &apos;flankwise record verify&apos;.</source>
        <translation>{0} Verweise in {1} führen nirgends hin. Es blieb, wie es war; sehen Sie mit &apos;flankwise record verify&apos; nach.</translation>
    </message>
    <message>
        <source>{0} says it has {1} x {2} pixels; at most {3} million are read. Crop the picture to the part, keeping its scale.</source>
        <translation>{0} hat nach eigener Angabe {1} x {2} Pixel; höchstens {3} Millionen werden gelesen. Beschneiden Sie das Bild auf das Teil, ohne den Maßstab zu ändern.</translation>
    </message>
    <message>
        <source>{0} the middle of {1}{2} would come within {3} of the original; the replacement is {4} off.</source>
        <translation>{0} die Mitte von {1}{2} käme auf {3} an das Original heran; der Ersatz liegt {4} daneben.</translation>
    </message>
    <message>
        <source>{0} was changed after it was written: its checksum does not agree. Use an untouched copy, or calibrate again.</source>
        <translation>{0} wurde verändert, nachdem es geschrieben war: Die Prüfsumme stimmt nicht. Nehmen Sie eine unberührte Kopie, oder kalibrieren Sie neu.</translation>
    </message>
    <message>
        <source>{0} was changed while it was being filed. Nothing was filed; do it again.</source>
        <translation>{0} wurde verändert, während es abgelegt wurde. Nichts wurde abgelegt; versuchen Sie es noch einmal.</translation>
    </message>
    <message>
        <source>{0} was not taken in: {1}.</source>
        <translation>{0} wurde nicht aufgenommen: {1}.</translation>
    </message>
    <message>
        <source>{0} was not taken in: {1}. It does not come from this program.</source>
        <translation>{0} wurde nicht aufgenommen: {1}. Es stammt nicht von diesem Programm.</translation>
    </message>
    <message>
        <source>{0} was written by a later version of this program. Update it here.</source>
        <translation>{0} wurde von einer späteren Version dieses Programms geschrieben. Bringen Sie es hier auf den neuen Stand.</translation>
    </message>
    <message>
        <source>{0} was written by a later version of this program. Update it.</source>
        <translation>{0} wurde von einer späteren Version dieses Programms geschrieben. Bringen Sie es auf den neuen Stand.</translation>
    </message>
    <message>
        <source>{0} would unpack to {1} MB, {2} times its size: that is no picture as a camera writes it. Take the picture again.</source>
        <translation>{0} würde ausgepackt {1} MB groß, das {2}-fache der Datei: So schreibt keine Kamera ein Bild. Nehmen Sie das Bild neu auf.</translation>
    </message>
    <message>
        <source>{0} {1} has no unit: write for example {2}</source>
        <translation>{0} {1} hat keine Einheit: Schreiben Sie zum Beispiel {2}</translation>
    </message>
    <message>
        <source>{0} {1} in view: name one with --part N (1 to {2}, from left to right, row by row), measure each with --all-parts, or take the others away.</source>
        <translation>{0} {1} im Bild: Nennen Sie eines (1 bis {2}, von links nach rechts, Reihe für Reihe), messen Sie alle, oder nehmen Sie die anderen weg.</translation>
    </message>
    <message>
        <source>{0} {1} is not a number with a unit, such as {2}</source>
        <translation>{0} {1} ist keine Zahl mit Einheit wie {2}</translation>
    </message>
    <message>
        <source>{0} {1} is not a year such as 1938 or a span such as 1930-1940</source>
        <translation>{0} {1} ist kein Jahr wie 1938 und keine Spanne wie 1930-1940</translation>
    </message>
    <message>
        <source>{0} {1} is too large</source>
        <translation>{0} {1} ist zu groß</translation>
    </message>
    <message>
        <source>{0} {1} its limits</source>
        <translation>{0} {1} seine Grenzen</translation>
    </message>
    <message>
        <source>{0} {1} lacks inch sizes</source>
        <translation>{0} {1} fehlen Zollmaße</translation>
    </message>
    <message>
        <source>{0} {1} must be above zero</source>
        <translation>{0} {1} muss über null liegen</translation>
    </message>
    <message>
        <source>{0} {1} the limit</source>
        <translation>{0} {1} der Grenze</translation>
    </message>
    <message>
        <source>{0} {1} {2}. The dimensions are without it.</source>
        <translation>{0} {1} {2}. Die Maße gelten ohne das.</translation>
    </message>
    <message>
        <source>{0} {1}: no cast shrinks by a tenth; 0.2% is common</source>
        <translation>{0} {1}: Kein Abguss schrumpft um ein Zehntel; 0.2% ist üblich</translation>
    </message>
    <message>
        <source>{0} {1}: the first year is after the last; write {2}-{3}</source>
        <translation>{0} {1}: Das erste Jahr liegt nach dem letzten; schreiben Sie {2}-{3}</translation>
    </message>
    <message>
        <source>{0} {1}: the unit {2} is not %</source>
        <translation>{0} {1}: Die Einheit {2} ist nicht %</translation>
    </message>
    <message>
        <source>{0} {1}: the unit {2} is not deg</source>
        <translation>{0} {1}: Die Einheit {2} ist nicht deg</translation>
    </message>
    <message>
        <source>{0} {1}: the unit {2} is not one of mm, um, in</source>
        <translation>{0} {1}: Die Einheit {2} ist keine von mm, um, in</translation>
    </message>
    <message>
        <source>{0} {1}: write the decimal point as a dot, for example {2}</source>
        <translation>{0} {1}: Schreiben Sie das Dezimalzeichen als Punkt, zum Beispiel {2}</translation>
    </message>
    <message>
        <source>{0}, and what is cut off cannot be put back. Open the die for the next one: its pitch diameter must come out {1} larger for the middle of the zone; {2} at least and not more than {3}.</source>
        <translation>{0}, und was weggeschnitten ist, lässt sich nicht zurückholen. Öffnen Sie für die nächste das Schneideisen: Ihr Flankendurchmesser muss für die Mitte der Toleranz um {1} größer ausfallen; um mindestens {2} und höchstens {3}.</translation>
    </message>
    <message>
        <source>{0}, as the original&apos;s</source>
        <translation>{0}, wie beim Original</translation>
    </message>
    <message>
        <source>{0}, full bound</source>
        <translation>{0}, volle Grenze</translation>
    </message>
    <message>
        <source>{0}, more than the uncertainty can explain</source>
        <translation>{0}, mehr als die Unsicherheit erklären kann</translation>
    </message>
    <message>
        <source>{0}, row {1}: {2}. Nothing was filed.</source>
        <translation>{0}, Zeile {1}: {2}. Nichts wurde abgelegt.</translation>
    </message>
    <message>
        <source>{0}, so the edge offset was assumed to be 0 px with a standard uncertainty of {1} px{2}. Add {3} of clearly different diameter.</source>
        <translation>{0}, darum wurde der Kantenversatz mit 0 px und einer Standardunsicherheit von {1} px angenommen{2}. Nehmen Sie {3} deutlich anderen Durchmessers dazu.</translation>
    </message>
    <message>
        <source>{0}, {1} inside needed: too near to tell</source>
        <translation>{0}, {1} innerhalb nötig: zu nah, um es zu sagen</translation>
    </message>
    <message>
        <source>{0}, {1}: {2}. Nothing was filed.</source>
        <translation>{0}, {1}: {2}. Nichts wurde abgelegt.</translation>
    </message>
    <message>
        <source>{0}. Its pitch is another, too: {1}.</source>
        <translation>{0}. Auch seine Steigung ist eine andere: {1}.</translation>
    </message>
    <message>
        <source>{0}: an uncertainty of {1} mm is not credible for {2} of {3} mm. Check the unit.</source>
        <translation>{0}: Eine Unsicherheit von {1} mm ist für {2} von {3} mm nicht glaubhaft. Prüfen Sie die Einheit.</translation>
    </message>
    <message>
        <source>{0}: both edges of the part must be in view.</source>
        <translation>{0}: Beide Kanten des Teils müssen im Bild sein.</translation>
    </message>
    <message>
        <source>{0}: for a part of those years</source>
        <translation>{0}: für ein Teil aus jenen Jahren</translation>
    </message>
    <message>
        <source>{0}: its first row must name columns, each once: instrument, job or name, and of {1}.</source>
        <translation>{0}: Die erste Zeile muss Spalten nennen, jede einmal: instrument, job oder name, und von {1}.</translation>
    </message>
    <message>
        <source>{0}: no clear edge of a part in view.</source>
        <translation>{0}: keine deutliche Kante eines Teils im Bild.</translation>
    </message>
    <message>
        <source>{0}: {1} of {2} mm is not possible. Give it with its unit.</source>
        <translation>{0}: {1} von {2} mm ist nicht möglich. Geben Sie die Einheit an.</translation>
    </message>
    <message>
        <source>{0}: {1} {2} refers to a {3} that is not in it.</source>
        <translation>{0}: {1} {2} verweist auf {3}, das nicht darin ist.</translation>
    </message>
    <message>
        <source>{0}: {1}; leave the length of engagement out</source>
        <translation>{0}: {1}; lassen Sie die Einschraublänge weg</translation>
    </message>
    <message>
        <source>{0}; engaged over {1} its axis can move {2} to each side ({3}) and lean {4}</source>
        <translation>{0}; über {1} eingeschraubt kann ihre Achse sich um {2} nach jeder Seite bewegen ({3}) und um {4} neigen</translation>
    </message>
    <message>
        <source>{0}; the original&apos;s is {1}</source>
        <translation>{0}; die des Originals ist {1}</translation>
    </message>
    <message>
        <source>{0}; where it does, its axis can move {1} to each side at most.</source>
        <translation>{0}; wo sie es tut, kann ihre Achse sich höchstens um {1} nach jeder Seite bewegen.</translation>
    </message>
    <message>
        <source>{0}{1} would enter in {2} of the cases.</source>
        <translation>{0}{1} ginge in {2} der Fälle hinein.</translation>
    </message>
    <message>
        <source>No part of the job {0} is on file yet: file some in the strip of the register.</source>
        <translation>Noch ist kein Teil des Auftrags {0} in der Kartei: Legen Sie welche in der Leiste der Kartei ab.</translation>
    </message>
    <message>
        <source>No part {0} is on file. The list of the register shows which there are.</source>
        <translation>Ein Teil {0} ist nicht in der Kartei. Die Liste der Kartei zeigt, welche es gibt.</translation>
    </message>
    <message>
        <source>Nobody said how much the cast shrank: {0} % with U95 {1} % is taken. Type it below the hole, or cast a hole of known size.</source>
        <translation>Niemand hat gesagt, wie stark der Abguss geschwunden ist: {0} % mit U95 {1} % wird angenommen. Tragen Sie es unter dem Loch ein, oder gießen Sie ein Loch bekannter Größe ab.</translation>
    </message>
    <message>
        <source>Nobody said how wide the light is: U95 allows for polished flanks in a half cone of {0} deg. Mask the pad to a small patch, give its size under Light and lens, and calibrate anew to narrow it.</source>
        <translation>Niemand hat gesagt, wie breit das Licht ist: U95 lässt polierte Flanken in einem halben Kegel von {0} Grad zu. Decken Sie die Leuchtplatte bis auf einen kleinen Fleck ab, geben Sie dessen Größe unter „Licht und Objektiv“ an, und kalibrieren Sie neu, um U95 zu verkleinern.</translation>
    </message>
    <message>
        <source>On which instrument is that position? Type its name before it.</source>
        <translation>Zu welchem Instrument gehört diese Stelle? Tragen Sie seinen Namen davor ein.</translation>
    </message>
    <message>
        <source>Part {0} is on file as a screw. Lay a picture of the cast of its hole in here instead.</source>
        <translation>Teil {0} ist als Schraube in der Kartei. Legen Sie hier stattdessen ein Bild vom Abguss seines Lochs ein.</translation>
    </message>
    <message>
        <source>Part {0} is on file for {1}: is this one more picture of it ({2}), or another part?</source>
        <translation>Für {1} ist Teil {0} in der Kartei: Ist dies ein weiteres Bild davon ({2}) oder ein anderes Teil?</translation>
    </message>
    <message>
        <source>Part {0} is on file without a measurement. Open a picture of it and file it as part {1}.</source>
        <translation>Teil {0} ist ohne Messung in der Kartei. Öffnen Sie ein Bild davon und legen Sie es als Teil {1} ab.</translation>
    </message>
    <message>
        <source>Pins and flat gauge do not tell the cone of the light: it shows only where both are known to 0.2 µm or so. Give it under Light and lens if you know it.</source>
        <translation>Stifte und flaches Normal verraten den Lichtkegel nicht: Er zeigt sich nur, wo beide auf etwa 0,2 µm bekannt sind. Geben Sie ihn unter „Licht und Objektiv“ an, wenn Sie ihn kennen.</translation>
    </message>
    <message>
        <source>There is no parts register at {0} yet. The first part that is filed makes it.</source>
        <translation>Bei {0} gibt es noch keine Kartei. Das erste Teil, das abgelegt wird, legt sie an.</translation>
    </message>
    <message>
        <source>This shadow does not show whether the thread has one start or three; it is read with one. Count the ends of the ridges at the tip, and set the starts on the right if there is more than one.</source>
        <translation>Dieser Schatten zeigt nicht, ob das Gewinde einen Gang oder drei hat; es wird mit einem gelesen. Zählen Sie die Enden der Gänge an der Spitze, und stellen Sie rechts die Gangzahl ein, wenn es mehr als einer ist.</translation>
    </message>
    <message>
        <source>a hole stands where the screw belongs: lay the picture of a cast in at Hole</source>
        <translation>ein Loch steht, wo die Schraube hingehört: Legen Sie das Bild eines Abgusses unter „Loch“ ein</translation>
    </message>
    <message>
        <source>one is the thread of a screw, the other that of a hole: lay the hole in at Hole</source>
        <translation>das eine ist das Gewinde einer Schraube, das andere das eines Lochs: Legen Sie es unter „Loch“ ein</translation>
    </message>
    <message>
        <source>{0} cannot be read or written: {1}. Check the path and the permissions of the folder of the register.</source>
        <translation>{0} lässt sich nicht lesen oder schreiben: {1}. Prüfen Sie Pfad und Rechte des Ordners der Kartei.</translation>
    </message>
    <message>
        <source>{0} has a pitch of {1} mm and a pitch diameter of {2} mm, the part {3} mm and {4} mm: it is another size; its view in Part says which</source>
        <translation>{0} hat eine Steigung von {1} mm und einen Flankendurchmesser von {2} mm, das Teil {3} mm und {4} mm: Es ist eine andere Größe; seine Ansicht unter „Teil“ sagt, welche</translation>
    </message>
    <message>
        <source>{0} {1} in view: choose one on the right or by a click (1 to {2}, from left to right, row by row), or take the others away.</source>
        <translation>{0} {1} im Bild: Wählen Sie rechts oder mit einem Klick eines davon (1 bis {2}, von links nach rechts, Zeile für Zeile), oder nehmen Sie die anderen weg.</translation>
    </message>
</context>
<context>
    <name>signs</name>
    <message>
        <source>The picture is black: switch the light pad on, or expose longer.</source>
        <translation>Das Bild ist schwarz: Schalten Sie die Leuchtfläche ein, oder belichten Sie länger.</translation>
    </message>
    <message>
        <source>Too bright: {share} % of the ground is burnt out. Expose shorter or dim the pad.</source>
        <translation>Zu hell: {share} % des Grundes sind ausgebrannt. Belichten Sie kürzer oder dimmen Sie die Fläche.</translation>
    </message>
    <message>
        <source>The light comes from the front: put the light pad behind the part.</source>
        <translation>Das Licht kommt von vorn: Stellen Sie die Leuchtfläche hinter das Teil.</translation>
    </message>
    <message>
        <source>Nearly white ({percent} % of full scale): expose a little shorter.</source>
        <translation>Fast weiß ({percent} % des vollen Wertes): Belichten Sie etwas kürzer.</translation>
    </message>
    <message>
        <source>Dim ({percent} % of full scale): expose longer or turn the pad up.</source>
        <translation>Dunkel ({percent} % des vollen Wertes): Belichten Sie länger oder stellen Sie die Fläche heller.</translation>
    </message>
    <message>
        <source>Uneven: {percent} % darker in one place than in another. Centre the pad.</source>
        <translation>Ungleichmäßig: an einer Stelle {percent} % dunkler als an einer anderen. Rücken Sie die Fläche in die Mitte.</translation>
    </message>
    <message>
        <source>Even, at {percent} % of full scale, nothing burnt out.</source>
        <translation>Gleichmäßig, bei {percent} % des vollen Wertes, nichts ausgebrannt.</translation>
    </message>
    <message>
        <source>Nothing to focus on yet.</source>
        <translation>Noch nichts zum Scharfstellen.</translation>
    </message>
    <message>
        <source>Sharp: edge blur {blur} px.</source>
        <translation>Scharf: Kantenunschärfe {blur} px.</translation>
    </message>
    <message>
        <source>Edge blur {blur} px; it was {best} px a moment ago: move the lens back to there.</source>
        <translation>Kantenunschärfe {blur} px; eben waren es {best} px: Stellen Sie das Objektiv dorthin zurück.</translation>
    </message>
    <message>
        <source>Edge blur {blur} px: raise or lower the lens until this is smallest, under 2 px.</source>
        <translation>Kantenunschärfe {blur} px: Heben oder senken Sie das Objektiv, bis sie am kleinsten ist, unter 2 px.</translation>
    </message>
    <message>
        <source>Nothing can be seen in this light.</source>
        <translation>In diesem Licht ist nichts zu sehen.</translation>
    </message>
    <message>
        <source>Turn the part {angle}° anticlockwise.</source>
        <translation>Drehen Sie das Teil {angle}° gegen den Uhrzeigersinn.</translation>
    </message>
    <message>
        <source>Turn the part {angle}° clockwise.</source>
        <translation>Drehen Sie das Teil {angle}° im Uhrzeigersinn.</translation>
    </message>
    <message>
        <source>{whole} parts in view: leave one on the pad.</source>
        <translation>{whole} Teile im Bild: Lassen Sie eines auf der Fläche.</translation>
    </message>
    <message>
        <source>The part leaves the picture on {sides} sides: step back, or move it.</source>
        <translation>Das Teil verlässt das Bild auf {sides} Seiten: Gehen Sie zurück, oder verschieben Sie es.</translation>
    </message>
    <message>
        <source>Straight to {lean}°; no thread in view.</source>
        <translation>Gerade auf {lean}°; kein Gewinde im Bild.</translation>
    </message>
    <message>
        <source>The axis leans {number}° toward or away from the lens: raise or lower one end.</source>
        <translation>Die Achse neigt sich {number}° zum Objektiv oder davon weg: Heben oder senken Sie ein Ende.</translation>
    </message>
    <message>
        <source>Too small: a thread is only {pitch} px long. Come closer.</source>
        <translation>Zu klein: Ein Gang ist nur {pitch} px lang. Gehen Sie näher heran.</translation>
    </message>
    <message>
        <source>Only {number} threads in view: show at least 4.</source>
        <translation>Nur {number} Gänge im Bild: Zeigen Sie mindestens 4.</translation>
    </message>
    <message>
        <source>Straight: {number} threads of {pitch} px in view, tilt {tilt}°.</source>
        <translation>Gerade: {number} Gänge von {pitch} px im Bild, Neigung {tilt}°.</translation>
    </message>
    <message>
        <source>Straight: {number} threads of {pitch} px in view.</source>
        <translation>Gerade: {number} Gänge von {pitch} px im Bild.</translation>
    </message>
</context>
<context>
    <name>tray</name>
    <message>
        <source>{name} was overwritten after it had arrived: the file holds another picture now. Let the camera give every picture a name of its own.</source>
        <translation>{name} wurde nach dem Eintreffen überschrieben: Die Datei enthält jetzt ein anderes Bild. Die Kamera soll jedem Bild einen eigenen Namen geben.</translation>
    </message>
    <message>
        <source>on file: part {number}</source>
        <translation>im Register: Teil {number}</translation>
    </message>
    <message>
        <source>no calibration</source>
        <translation>keine Kalibrierung</translation>
    </message>
    <message>
        <source>on its way</source>
        <translation>unterwegs</translation>
    </message>
    <message>
        <source>waiting</source>
        <translation>wartet</translation>
    </message>
    <message>
        <source>measuring</source>
        <translation>wird gemessen</translation>
    </message>
    <message>
        <source>ready</source>
        <translation>bereit</translation>
    </message>
    <message>
        <source>refused</source>
        <translation>abgelehnt</translation>
    </message>
    <message>
        <source>is asked about</source>
        <translation>wartet auf eine Antwort</translation>
    </message>
    <message>
        <source>on file</source>
        <translation>im Register</translation>
    </message>
</context>
<context>
    <name>verdict</name>
    <message>
        <source>conforms</source>
        <translation>erfüllt</translation>
    </message>
    <message>
        <source>does not conform</source>
        <translation>erfüllt nicht</translation>
    </message>
    <message>
        <source>cannot tell</source>
        <translation>nicht entscheidbar</translation>
    </message>
    <message>
        <source>no limit</source>
        <translation>keine Grenze</translation>
    </message>
    <message>
        <source>{mark} limits or sizes from memory, not checked against the printed standard</source>
        <translation>{mark} Grenzen oder Maße aus dem Gedächtnis, nicht an der gedruckten Norm geprüft</translation>
    </message>
    <message>
        <source>up to {limit}</source>
        <translation>bis {limit}</translation>
    </message>
    <message>
        <source>from {limit}</source>
        <translation>ab {limit}</translation>
    </message>
</context>
</TS>
